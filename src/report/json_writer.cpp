// SPDX-License-Identifier: MIT
// The JSON contract. Unknown is {"absent": reason}, never null; a number that is not finite stops the
// program, because the library would silently write null for it.
#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "report/clean_text.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

using Json = nlohmann::ordered_json;

/// Converting units leaves noise after the fifteenth digit; ten are beyond any bench and keep bounds in
/// order.
constexpr int kept_digits = 10;

double tidy(double number) {
  if (!std::isfinite(number)) throw std::logic_error("a number for JSON is not finite");
  std::array<char, 64> buffer{};
  const auto written = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number,
                                     std::chars_format::scientific, kept_digits - 1);
  double kept = number;
  std::from_chars(buffer.data(), written.ptr, kept);
  return kept == 0.0 ? 0.0 : kept;
}

Json to_json_value(const Figure& figure) {
  Json rests_on = Json::array();
  if (!figure.origin())
    for (const Figure& leaf : figure.leaves())
      rests_on.push_back(clean(leaf.name() + " (" + std::string(basis_word(leaf.basis())) + ")"));
  Json json{{"value", tidy(figure.value())},       {"low", tidy(figure.low())},
            {"high", tidy(figure.high())},         {"unit", figure.unit().id},
            {"basis", basis_word(figure.basis())}, {"rests_on", std::move(rests_on)}};
  if (figure.origin() && !figure.origin()->source.empty()) json["source"] = clean(figure.origin()->source);
  return json;
}

Json to_json_value(const Finding& finding) {
  if (finding.known()) return to_json_value(finding.figure());
  return {{"absent", clean(finding.reason())}};
}

Json to_json_value(const std::string& text) {
  return clean(text);
}
Json to_json_value(bool yes) {
  return yes;
}
Json to_json_value(std::int64_t count) {
  return count;
}
Json to_json_value(const Coordinate& coordinate) {
  return tidy(coordinate.value);
}
Json to_json_value(const std::vector<std::string>& texts) {
  Json list = Json::array();
  for (const std::string& text : texts) list.push_back(clean(text));
  return list;
}

/// Sentences in JSON carry their figures with marks, as the text does.
std::string sentence(const Phrase& phrase) {
  std::string text;
  for (const Phrase::Part& part : phrase.parts())
    text += std::holds_alternative<Figure>(part) ? marked_value(std::get<Figure>(part))
                                                 : std::get<std::string>(part);
  return clean(text);
}

/// Two results of one name would silently hide each other.
void add(Json& object, const std::string& given, Json value) {
  const std::string name = clean(given);
  if (object.contains(name)) throw std::logic_error("JSON name " + name + " is used twice");
  object[name] = std::move(value);
}

Json to_json_value(const Record& record) {
  Json object = Json::object();
  for (const auto& [name, value] : record.fields)
    add(object, name, std::visit([](const auto& field) { return to_json_value(field); }, value));
  return object;
}

Json cautions_json(const Document& document) {
  Json list = Json::array();
  for (const Caution& caution : document.cautions())
    list.push_back({{"id", clean(caution.id)}, {"text", sentence(caution.text)}});
  return list;
}

Json inputs_json(const Document& document) {
  Json object = Json::object();
  for (const Input& input : document.inputs)
    add(object, input.name, std::visit([](const auto& value) { return to_json_value(value); }, input.value));
  return object;
}

Json results_json(const Document& document) {
  Json object = Json::object();
  for (const NamedFinding& result : document.results) add(object, result.name, to_json_value(result.finding));
  return object;
}

Json array_json(const RecordArray& array) {
  Json list = Json::array();
  for (const Record& record : array.records) list.push_back(to_json_value(record));
  return list;
}

}  // namespace

std::string to_json(const Document& document) {
  Json root{
      {"schema", document.schema()},
      {"inputs", inputs_json(document)},
      {"results", results_json(document)},
      {"cautions", cautions_json(document)},
      {"library",
       {{"layers", to_json_value(document.library().layers)}, {"hash", clean(document.library().hash)}}}};
  for (const RecordArray& array : document.arrays) add(root, array.name, array_json(array));
  return root.dump(2) + "\n";
}

}  // namespace warmsheet::report
