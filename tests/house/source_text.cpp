// SPDX-License-Identifier: MIT
#include "house/source_text.h"

#include <algorithm>
#include <regex>

namespace warmsheet::house {
namespace {

bool is_word(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

/// Blanks what is no code, one piece at a time.
class Blanker {
 public:
  explicit Blanker(std::string_view text) : text_(text), code_(text) {}

  std::string run() {
    while (at_ < text_.size()) {
      if (ahead("//"))
        blank_to(std::min(text_.find('\n', at_), text_.size()));
      else if (ahead("/*"))
        blank_to(after(text_.find("*/", at_ + 2), 2));
      else if (ahead("R\"") && (at_ == 0 || !is_word(text_[at_ - 1])))
        raw_text();
      else if (ahead("\""))
        quoted('"');
      else if (ahead("'") && (at_ == 0 || !is_word(text_[at_ - 1])))  // not the mark between digits
        quoted('\'');
      else
        ++at_;
    }
    return std::move(code_);
  }

 private:
  [[nodiscard]] bool ahead(std::string_view token) const { return text_.substr(at_).starts_with(token); }

  [[nodiscard]] std::size_t after(std::size_t found, std::size_t length) const {
    return found == std::string_view::npos ? text_.size() : found + length;
  }

  void blank_to(std::size_t end) {
    for (; at_ < end; ++at_)
      if (text_[at_] != '\n') code_[at_] = ' ';
  }

  void raw_text() {
    const std::size_t open = std::min(text_.find('(', at_), text_.size());
    const std::string close = ")" + std::string(text_.substr(at_ + 2, open - at_ - 2)) + "\"";
    blank_to(after(text_.find(close, open), close.size()));
  }

  /// The marks stay, so that a text still counts as something.
  void quoted(char mark) {
    std::size_t end = at_ + 1;
    while (end < text_.size() && text_[end] != mark && text_[end] != '\n')
      end += text_[end] == '\\' ? 2U : 1U;
    end = std::min(end, text_.size());
    ++at_;
    blank_to(end);
    if (at_ < text_.size()) ++at_;
  }

  std::string_view text_;
  std::string code_;
  std::size_t at_ = 0;
};

/// Preprocessor lines hold braces of other branches.
std::string without_directives(std::string code) {
  bool inside = false;
  bool line_starts = true;
  for (std::size_t i = 0; i < code.size(); ++i) {
    if (code[i] == '\n') {
      inside = inside && i > 0 && code[i - 1] == '\\';
      line_starts = true;
      continue;
    }
    if (line_starts && code[i] == '#') inside = true;
    if (code[i] != ' ') line_starts = false;
    if (inside && code[i] != '\\') code[i] = ' ';
  }
  return code;
}

/// What stands before a brace decides what it opens.
bool opens_function(const std::string& head) {
  static const std::regex container(
      "\\b(namespace|TEST_SUITE)\\b|^\\s*(template\\s*<.*>\\s*)?(class|struct|enum|union)\\b");
  return head.find('(') != std::string::npos && !std::regex_search(head, container);
}

bool opens_container(const std::string& head) {
  static const std::regex container("\\b(namespace|TEST_SUITE|class|struct|enum|union|extern)\\b");
  return std::regex_search(head, container);
}

class FunctionFinder {
 public:
  FunctionFinder(std::string_view text, bool without_table_rows)
      : lines_(lines_of(text)),
        code_(without_directives(code_of(text))),
        without_table_rows_(without_table_rows) {}

  std::vector<Function> run() {
    for (std::size_t at = 0; at < code_.size(); ++at) {
      const char c = code_[at];
      if (c == '\n') ++line_;
      if (c == '{')
        open();
      else if (c == '}')
        close();
      else if (body_depth_ == 0)
        add_to_head(c);
    }
    return std::move(found_);
  }

 private:
  void add_to_head(char c) {
    if (c == ';') return head_.clear();
    if (head_.empty() && (c == ' ' || c == '\n')) return;
    if (head_.empty()) head_line_ = line_;
    head_ += c == '\n' ? ' ' : c;
  }

  void open() {
    ++depth_;
    // Only containers are looked into: all else, data and bodies, is passed over as a whole.
    if (body_depth_ == 0 && !opens_container(head_)) {
      body_depth_ = depth_;
      is_function_ = opens_function(head_);
    } else if (body_depth_ == 0 && opens_function(head_)) {
      body_depth_ = depth_;
      is_function_ = true;
    }
    if (body_depth_ == 0) head_.clear();
  }

  void close() {
    if (depth_ == body_depth_) {
      if (is_function_) found_.push_back({head_line_, length_from(head_line_)});
      body_depth_ = 0;
    }
    if (depth_ > 0) --depth_;
    if (body_depth_ == 0) head_.clear();
  }

  [[nodiscard]] std::size_t length_from(std::size_t first) const {
    if (!without_table_rows_) return line_ - first + 1;
    std::size_t length = 0;
    for (std::size_t line = first; line <= line_; ++line) {
      const std::string& text = lines_[line - 1];
      const std::size_t start = text.find_first_not_of(' ');
      const bool row = start != std::string::npos && (text[start] == '{' || text[start] == '"');
      if (!row) ++length;
    }
    return length;
  }

  std::vector<std::string> lines_;
  std::string code_;
  bool without_table_rows_;
  std::vector<Function> found_;
  std::string head_;
  std::size_t head_line_ = 1;
  std::size_t line_ = 1;
  std::size_t depth_ = 0;
  std::size_t body_depth_ = 0;  // depth of the body that is being passed over; 0: none
  bool is_function_ = false;
};

}  // namespace

std::string code_of(std::string_view text) {
  return Blanker(text).run();
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::vector<Include> includes_of(std::string_view text) {
  static const std::regex include(R"(^\s*#\s*include\s*([<"])([^>"]+)[>"].*)");
  std::vector<Include> found;
  const std::vector<std::string> lines = lines_of(text);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    std::smatch match;
    if (std::regex_match(lines[i], match, include)) found.push_back({i + 1, match[2], match[1] == "\""});
  }
  return found;
}

std::vector<Function> functions_of(std::string_view text, bool without_table_rows) {
  return FunctionFinder(text, without_table_rows).run();
}

std::vector<std::size_t> lines_with(std::string_view code, std::string_view word) {
  std::vector<std::size_t> found;
  for (std::size_t at = code.find(word); at != std::string_view::npos; at = code.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    const bool starts = at == 0 || !is_word(word.front()) || !is_word(code[at - 1]);
    const bool ends = end == code.size() || !is_word(word.back()) || !is_word(code[end]);
    if (starts && ends)
      found.push_back(static_cast<std::size_t>(
                          std::count(code.begin(), code.begin() + static_cast<std::ptrdiff_t>(at), '\n')) +
                      1);
  }
  return found;
}

}  // namespace warmsheet::house
