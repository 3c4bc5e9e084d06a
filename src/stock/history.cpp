// SPDX-License-Identifier: MIT
#include "stock/history.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>
#include <set>
#include <utility>

#include "base/calendar.h"
#include "base/text.h"

namespace warmsheet::stock {
namespace {

constexpr std::size_t most_months = 1200;
constexpr std::size_t most_columns = 200;

struct Cell {
  std::string text;
  Place place;
};
using Line = std::vector<Cell>;

/// Splits a table to cells; a quoted cell may hold separators, line ends and doubled quotes.
class Splitter {
 public:
  Splitter(std::string_view text, std::string file, char separator)
      : text_(text), file_(std::move(file)), separator_(separator) {}

  std::vector<Line> lines() {
    std::vector<Line> all;
    while (at_ < text_.size()) {
      Line line = read_line();
      const bool blank = line.size() == 1 && trim(line.front().text).empty();
      if (!blank) all.push_back(std::move(line));
    }
    return all;
  }

 private:
  Line read_line() {
    Line line;
    while (true) {
      line.push_back(read_cell());
      if (at_ >= text_.size()) return line;
      const char end = take();
      if (end == separator_) continue;
      if (end == '\r' && at_ < text_.size() && text_[at_] == '\n') take();
      return line;
    }
  }

  Cell read_cell() {
    Cell cell{"", {file_, line_, column_}};
    if (at_ < text_.size() && text_[at_] == '"')
      read_quoted(cell);
    else
      while (at_ < text_.size() && !ends_cell()) cell.text += take();
    return cell;
  }

  void read_quoted(Cell& cell) {
    take();
    while (true) {
      if (at_ >= text_.size())
        throw Failure(Problem{Trouble::data, cell.place, "this quoted cell never ends",
                              "close it with a second quote sign"});
      const char c = take();
      if (c != '"') {
        cell.text += c;
      } else if (at_ < text_.size() && text_[at_] == '"') {
        cell.text += take();
      } else {
        break;
      }
    }
    if (at_ < text_.size() && !ends_cell())
      throw Failure(Problem{Trouble::data,
                            {file_, line_, column_},
                            "text stands behind the closing quote of a cell",
                            "double a quote sign that belongs to the text"});
  }

  [[nodiscard]] bool ends_cell() const {
    return text_[at_] == separator_ || text_[at_] == '\n' || text_[at_] == '\r';
  }

  char take() {
    const char c = text_[at_++];
    if (c == '\n' || (c == '\r' && (at_ >= text_.size() || text_[at_] != '\n'))) {
      ++line_;
      column_ = 1;
    } else {
      ++column_;
    }
    return c;
  }

  std::string_view text_;
  std::string file_;
  char separator_;
  std::size_t at_ = 0;
  int line_ = 1;
  int column_ = 1;
};

int count_of(const Cell& cell, Problems& problems) {
  const std::string_view digits = trim(cell.text);
  int count = -1;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), count);
  if (error == std::errc{} && end == digits.data() + digits.size() && count >= 0 &&
      count <= most_orthoses_a_month)
    return count;
  problems.add(
      cell.place, fmt::format("\"{}\" is no count of orthoses", clip(digits, 30)),
      fmt::format("write a whole number from 0 to {}; a month without any is 0", most_orthoses_a_month));
  return 0;
}

/// "2031-M01" as the words {"m"} and the numbers {2031, 1}.
struct MonthName {
  std::vector<std::string> words;
  std::vector<int> numbers;
};

MonthName month_name_of(std::string_view text) {
  constexpr int too_large = 100'000'000;
  // Letters of other alphabets are bytes above ASCII.
  const auto letter = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80;
  };
  MonthName name;
  char before = ' ';
  for (const char c : text) {
    if (is_digit(c) && !is_digit(before)) name.numbers.push_back(0);
    if (is_digit(c)) name.numbers.back() = std::min(10 * name.numbers.back() + (c - '0'), too_large);
    if (letter(c) && !letter(before)) name.words.emplace_back();
    if (letter(c)) name.words.back() += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    before = c;
  }
  return name;
}

/// Which month "march" or its beginning is, 0 being January.
std::optional<int> month_begun_by(const std::string& word) {
  const auto at = std::find_if(month_names.begin(), month_names.end(),
                               [&](std::string_view name) { return lower_case(name).starts_with(word); });
  if (at == month_names.end()) return std::nullopt;
  return static_cast<int>(at - month_names.begin());
}

/// "march" or its beginning, at least "mar".
bool names_month(const std::string& word) {
  return word.size() >= 3 && month_begun_by(word);
}

/// 2031-01, 01/2031, 203101, Jan 2031, January, or a number that counts the months. Not a year, a quarter, or
/// a word like "total".
bool is_month(std::string_view text) {
  const MonthName name = month_name_of(text);
  const auto of_year = [](int number) { return number >= 1 && number <= months_in_year; };
  if (name.words.size() > 1 || name.numbers.size() > 3) return false;
  if (name.words.size() == 1 && names_month(name.words.front())) return name.numbers.size() < 3;
  if (name.words.size() == 1 && name.words.front() != "m" && name.words.front() != "month") return false;
  if (name.numbers.size() != 1) return std::any_of(name.numbers.begin(), name.numbers.end(), of_year);
  const int number = name.numbers.front();
  constexpr int year_and_month = 100'000;  // at least six digits
  return number >= year_and_month ? of_year(number % 100) : number <= static_cast<int>(most_months);
}

/// Months since the year 0, where the year is told too. `text` is a month.
std::optional<int> calendar_month_of(std::string_view text) {
  constexpr int first_year = 1900;
  const MonthName name = month_name_of(text);
  const auto counted = [](int year, int month) -> std::optional<int> {
    if (year < first_year || month < 1 || month > months_in_year) return std::nullopt;
    return months_in_year * year + month - 1;
  };
  if (name.words.size() == 1 && name.numbers.size() == 1) {
    const std::optional<int> month = month_begun_by(name.words.front());
    return month ? counted(name.numbers.front(), *month + 1) : std::nullopt;
  }
  if (name.numbers.size() == 1) return counted(name.numbers[0] / 100, name.numbers[0] % 100);
  if (name.numbers.size() != 2) return std::nullopt;
  const auto [a, b] = std::pair(name.numbers[0], name.numbers[1]);
  return a >= first_year ? counted(a, b) : counted(b, a);
}

/// A table that leaves out months without any orthosis would show more of them a month than there were.
void check_gaps(const History& history, const Place& place, Problems& problems) {
  std::set<int> seen;
  for (const std::string& month : history.months) {
    const std::optional<int> calendar = calendar_month_of(month);
    if (!calendar) return;
    seen.insert(*calendar);
  }
  const int missing = *seen.rbegin() - *seen.begin() + 1 - static_cast<int>(seen.size());
  if (missing > 0)
    problems.add(place, fmt::format("months are missing between the first and the last one: {}", missing),
                 "write a line of zeros for each month in which nothing was made");
}

std::vector<std::string> headings_of(const Line& line, Problems& problems) {
  std::vector<std::string> headings;
  std::set<std::string> seen;
  for (const Cell& cell : line) {
    const std::string heading(trim(cell.text));
    if (heading.empty()) problems.add(cell.place, "a column has no heading", "name the kind it counts");
    if (!heading.empty() && !seen.insert(heading).second)
      problems.add(cell.place, fmt::format("two columns are headed \"{}\"", clip(heading, 40)));
    headings.push_back(heading);
  }
  return headings;
}

void read_month(const Line& line, const std::vector<std::string>& headings, History& history,
                Problems& problems) {
  const std::string month(trim(line.front().text));
  if (line.size() != headings.size()) {
    problems.add(line.front().place,
                 fmt::format("this line has {} cells, the headings are {}", line.size(), headings.size()),
                 "check the dialect (comma, semicolon, tab) and empty cells");
    return;
  }
  if (!is_month(month))
    problems.add(line.front().place, fmt::format("\"{}\" is no month", clip(month, 30)),
                 "write months like 2031-01, Jan 2031 or 1, 2, 3; leave out totals and means");
  if (std::find(history.months.begin(), history.months.end(), month) != history.months.end())
    problems.add(line.front().place, fmt::format("the month \"{}\" stands here twice", clip(month, 30)));
  history.months.push_back(month);
  for (std::size_t i = 1; i < line.size(); ++i)
    history.counts[headings[i]].push_back(count_of(line[i], problems));
}

}  // namespace

const std::vector<std::string>& dialect_words() {
  static const std::vector<std::string> words{"comma", "semicolon", "tab"};
  return words;
}

Dialect dialect_of(std::string_view word) {
  if (word == "semicolon") return Dialect::semicolon;
  return word == "tab" ? Dialect::tab : Dialect::comma;
}

char separator(Dialect dialect) {
  if (dialect == Dialect::semicolon) return ';';
  return dialect == Dialect::tab ? '\t' : ',';
}

History read_history(std::string_view text, const std::string& file, Dialect dialect) {
  const std::vector<Line> lines = Splitter(without_byte_order_mark(text), file, separator(dialect)).lines();
  if (lines.size() < 2 || lines.front().size() < 2)
    throw Failure(Problem{
        Trouble::data,
        {file, 1, 1},
        "a history needs a line of headings, a column of months and at least one month",
        fmt::format("cells must be parted by a {}", dialect_words()[static_cast<std::size_t>(dialect)])});
  if (lines.size() > most_months || lines.front().size() > most_columns)
    throw Failure(Problem{Trouble::data,
                          {file, 1, 1},
                          fmt::format("more than {} months or {} columns", most_months, most_columns),
                          {}});
  Problems problems;
  History history{file, {}, {}};
  const std::vector<std::string> headings = headings_of(lines.front(), problems);
  for (std::size_t i = 1; i < lines.size(); ++i) read_month(lines[i], headings, history, problems);
  problems.throw_if_any();
  check_gaps(history, {file, 1, 1}, problems);
  problems.throw_if_any();
  return history;
}

std::string cell_text(std::string_view text, Dialect dialect) {
  const bool plain = text.find_first_of("\"\r\n") == std::string_view::npos &&
                     text.find(separator(dialect)) == std::string_view::npos;
  if (plain) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

}  // namespace warmsheet::stock
