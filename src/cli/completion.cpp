// SPDX-License-Identifier: MIT
#include "cli/completion.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>
#include <utility>

#include "base/problem.h"
#include "base/text.h"
#include "cli/arguments.h"
#include "cli/command.h"
#include "cli/completion_scripts.h"
#include "stock/caseload.h"

namespace warmsheet::cli {
namespace {

using library::Library;

/// Names of `records`, a map from id to something with a name.
template <class Records>
void add_ids(const Records& records, std::vector<Offer>& offers, std::string_view after = "") {
  for (const auto& [id, record] : records) offers.push_back({id + std::string(after), record.name});
}

/// What a placeholder of the command table stands for, if it is a name that the library or the program knows.
struct NameKind {
  std::string_view placeholder;
  void (*add)(const Library& library, std::vector<Offer>& offers);
};

constexpr std::array<NameKind, 11> name_kinds{{
    {"SHEET", [](const Library& l, std::vector<Offer>& o) { add_ids(l.sheets, o); }},
    {"STOCK",
     [](const Library& l, std::vector<Offer>& o) {
       for (const library::StockItem* item : l.all_stock())
         o.push_back({item->key(), l.sheet(item->sheet).name});
     }},
    {"DESIGN", [](const Library& l, std::vector<Offer>& o) { add_ids(l.designs, o); }},
    {"OUTLINE", [](const Library& l, std::vector<Offer>& o) { add_ids(l.designs, o); }},
    {"CONDITION", [](const Library& l, std::vector<Offer>& o) { add_ids(l.conditions, o); }},
    {"SKIN", [](const Library& l, std::vector<Offer>& o) { add_ids(l.skins, o); }},
    {"LINER", [](const Library& l, std::vector<Offer>& o) { add_ids(l.surroundings.liners, o); }},
    {"WRAP", [](const Library& l, std::vector<Offer>& o) { add_ids(l.surroundings.wraps, o); }},
    {"STATE", [](const Library& l, std::vector<Offer>& o) { add_ids(l.surroundings.bath_states, o); }},
    {"PERFORATION", [](const Library& l, std::vector<Offer>& o) { add_ids(l.perforations, o); }},
    {"MEASURE", [](const Library& l, std::vector<Offer>& o) { add_ids(l.measures, o, "="); }},
}};

/// Known before any library is read.
void add_variants(std::vector<Offer>& offers) {
  for (const stock::Variant& variant : stock::standing_variants())
    offers.push_back({variant.id, variant.name});
}

/// "SHEET or STOCK", "OUTLINE[*N] ...", "yes|no": its words without brackets.
std::vector<std::string> tokens_of(std::string_view placeholder) {
  std::vector<std::string> tokens(1);
  for (const char c : placeholder) {
    const bool belongs =
        c == '.' || c == '-' || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || is_digit(c);
    if (belongs)
      tokens.back() += c;
    else
      tokens.emplace_back();
  }
  return tokens;
}

bool takes_files(std::string_view token) {
  return token == "FILE" || token == "OUTLINE" || token.ends_with(".toml");
}

class Completer {
 public:
  Completer(const std::vector<std::string>& typed, const Environment& environment)
      : words_(typed), environment_(environment) {}

  Offers run() {
    if (words_.size() == 1) return commands_and(program_words());
    const std::string& first = words_.front();
    if (first == "help") return commands_and({});
    if (first == "completion") return named(completion_shells());
    if (const Command* command = find_command(first)) complete(*command);
    return std::move(offers_);
  }

 private:
  static std::vector<Offer> program_words() {
    return {{"help", "what the program or a command takes"},
            {"completion", "completion for a shell"},
            {"--help", "what the program takes"},
            {"--version", "which version this is"}};
  }

  Offers commands_and(std::vector<Offer> more) {
    for (const Command& command : commands())
      offers_.words.push_back({std::string(command.name), std::string(command.summary)});
    for (Offer& offer : more) offers_.words.push_back(std::move(offer));
    return std::move(offers_);
  }

  Offers named(const std::vector<std::string>& names) {
    for (const std::string& name : names) offers_.words.push_back({name, ""});
    return std::move(offers_);
  }

  void complete(const Command& command) {
    const std::vector<Option> options = options_of(command);
    const std::string& word = words_.back();
    const auto takes_value = [&](std::string_view name) {
      return std::find_if(options.begin(), options.end(),
                          [&](const Option& option) { return option.name == name && !option.value.empty(); });
    };
    const std::size_t equals = word.starts_with("--") ? word.find('=') : std::string::npos;
    if (equals != std::string::npos) {
      if (const auto at = takes_value(word.substr(0, equals)); at != options.end())
        value(at->value, word.substr(0, equals + 1));
    } else if (const auto at = takes_value(words_[words_.size() - 2]); at != options.end()) {
      value(at->value, "");
    } else if (word.starts_with("-")) {
      add_options(options);
    } else {
      value(command.positional, "");
    }
  }

  void add_options(const std::vector<Option>& options) {
    for (const Option& option : options) {
      const bool given = std::find(words_.begin(), words_.end() - 1, option.name) != words_.end() - 1;
      if (!given || option.repeatable)
        offers_.words.push_back({std::string(option.name), std::string(option.help)});
    }
  }

  /// What `placeholder` stands for, with `before` ("--option=") in front.
  void value(std::string_view placeholder, const std::string& before) {
    const bool alternatives = placeholder.find('|') != std::string_view::npos;
    for (const std::string& token : tokens_of(placeholder)) {
      if (alternatives && token == lower_case(token))
        offers_.words.push_back({token, ""});
      else
        add_names(token);
      offers_.files = offers_.files || takes_files(token);
      offers_.folders = offers_.folders || token == "DIR";
    }
    for (Offer& offer : offers_.words) offer.word = before + offer.word;
  }

  void add_names(const std::string& token) {
    if (token == "VARIANT") return add_variants(offers_.words);
    for (const NameKind& kind : name_kinds)
      if (kind.placeholder == token) kind.add(library(), offers_.words);
  }

  /// With the folders named on this command line; one that cannot be read offers nothing of its own.
  const Library& library() {
    if (library_) return *library_;
    std::vector<library::LayerFolder> layers = environment_.layers;
    constexpr std::string_view joined = "--library=";
    for (std::size_t i = 1; i + 1 < words_.size(); ++i) {
      if (words_[i - 1] == "--library") layers.push_back({"--library", words_[i]});
      if (words_[i].starts_with(joined)) layers.push_back({"--library", words_[i].substr(joined.size())});
    }
    try {
      library_ = library::load(layers);
    } catch (const Failure&) {
      library_ = library::load({});
    }
    return *library_;
  }

  const std::vector<std::string>& words_;
  const Environment& environment_;
  std::optional<Library> library_;
  Offers offers_;
};

/// bash hands over "--color", "=", "al" where one word was typed.
std::vector<std::string> joined_at_equals(const std::vector<std::string>& words) {
  std::vector<std::string> joined;
  bool open = false;
  for (const std::string& word : words) {
    if (!joined.empty() && (word == "=" || open))
      joined.back() += word;
    else
      joined.push_back(word);
    open = word == "=";
  }
  return joined;
}

std::string suggest(const std::vector<std::string>& words, const Environment& environment) {
  const Offers offers = offers_for(words, environment);
  std::string text;
  for (const Offer& offer : offers.words) text += offer.word + "\t" + offer.note + "\n";
  if (offers.files) text += ":files\n";
  if (offers.folders) text += ":folders\n";
  return text;
}

}  // namespace

Offers offers_for(const std::vector<std::string>& typed, const Environment& environment) {
  const std::vector<std::string> words =
      joined_at_equals(typed.empty() ? std::vector<std::string>{""} : typed);
  Offers offers = Completer(words, environment).run();
  std::erase_if(offers.words, [&](const Offer& offer) { return !offer.word.starts_with(words.back()); });
  return offers;
}

const std::vector<std::string>& completion_shells() {
  static const std::vector<std::string> shells{"bash", "zsh", "fish"};
  return shells;
}

std::string completion_text(const std::vector<std::string>& words, const Environment& environment) {
  const std::string what = words.empty() ? "" : words.front();
  if (what == "bash") return std::string(bash_completion);
  if (what == "zsh") return std::string(zsh_completion);
  if (what == "fish") return std::string(fish_completion);
  if (what == "suggest" && words.size() > 1 && words[1] == "--")
    return suggest({words.begin() + 2, words.end()}, environment);
  refuse_usage("",
               what.empty() ? "which shell is it for?" : "\"" + clip(what, 40) + "\" is no shell known here",
               "write: warmsheet completion " + join(completion_shells(), "|"));
}

}  // namespace warmsheet::cli
