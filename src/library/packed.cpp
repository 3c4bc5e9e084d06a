// SPDX-License-Identifier: MIT
// value = kind, line, column, line and column of its key, content. Numbers are written seven bits to a byte,
// lowest first, the top bit saying that more follow (LEB128); whole values are folded so that small negative
// ones stay short; decimals are their eight bytes, lowest first.
#include "library/packed.h"

#include <bit>
#include <cstdint>
#include <iterator>
#include <stdexcept>
#include <utility>

namespace warmsheet::library {
namespace {

constexpr unsigned bits_per_byte = 7;
constexpr std::uint64_t low_bits = 0x7F;
constexpr std::uint64_t more_follow = 0x80;
constexpr unsigned decimal_bytes = 8;

enum class Kind : std::uint64_t { text, whole, decimal, flag, array, table };

class Packer {
 public:
  void value(const toml::Value& value) {
    number(value.data.index());
    place(value.place);
    place(value.key_place);
    std::visit([this](const auto& content) { write(content); }, value.data);
  }

  std::string take() { return std::move(bytes_); }

 private:
  void number(std::uint64_t rest) {
    for (; rest > low_bits; rest >>= bits_per_byte)
      bytes_ += static_cast<char>((rest & low_bits) | more_follow);
    bytes_ += static_cast<char>(rest);
  }

  void place(const Place& place) {
    number(static_cast<std::uint64_t>(place.line));
    number(static_cast<std::uint64_t>(place.column));
  }

  void write(const std::string& text) {
    number(text.size());
    bytes_ += text;
  }

  void write(std::int64_t whole) {
    const auto raw = std::bit_cast<std::uint64_t>(whole);
    number(whole < 0 ? ~(raw << 1U) : raw << 1U);
  }

  void write(double decimal) {
    auto raw = std::bit_cast<std::uint64_t>(decimal);
    for (unsigned i = 0; i < decimal_bytes; ++i, raw >>= 8U) bytes_ += static_cast<char>(raw & 0xFFU);
  }

  void write(bool flag) { number(flag ? 1 : 0); }

  void write(const toml::Array& array) {
    number(array.size());
    for (const toml::Value& entry : array) value(entry);
  }

  void write(const toml::Table& table) {
    number(table.size());
    for (const auto& [key, child] : table) {
      write(key);
      value(child);
    }
  }

  std::string bytes_;
};

class Unpacker {
 public:
  Unpacker(std::string_view bytes, const std::string& file) : rest_(bytes), file_(file) {}

  toml::Value value() {
    const auto kind = static_cast<Kind>(number());
    toml::Value value{false, place(), place()};  // braces: read in this order
    if (value.key_place.line == 0) value.key_place = {};
    content(kind, value);
    return value;
  }

  [[nodiscard]] bool at_end() const { return rest_.empty(); }

 private:
  std::string_view take(std::uint64_t count) {
    if (count > rest_.size()) throw std::logic_error("packed library: bytes end too early");
    const std::string_view taken = rest_.substr(0, count);
    rest_.remove_prefix(count);
    return taken;
  }

  std::uint64_t byte() { return static_cast<unsigned char>(take(1).front()); }

  std::uint64_t number() {
    std::uint64_t number = 0;
    std::uint64_t part = more_follow;
    for (unsigned shift = 0; (part & more_follow) != 0; shift += bits_per_byte) {
      if (shift >= 64) throw std::logic_error("packed library: a number does not end");
      part = byte();
      number |= (part & low_bits) << shift;
    }
    return number;
  }

  Place place() {
    const auto line = static_cast<int>(number());
    return {file_, line, static_cast<int>(number())};
  }

  std::string text() { return std::string(take(number())); }

  std::int64_t whole() {
    const std::uint64_t folded = number();
    return std::bit_cast<std::int64_t>((folded >> 1U) ^ (~(folded & 1U) + 1U));
  }

  double decimal() {
    std::uint64_t raw = 0;
    for (unsigned i = 0; i < decimal_bytes; ++i) raw |= byte() << (8U * i);
    return std::bit_cast<double>(raw);
  }

  toml::Array array() {
    toml::Array array;
    for (std::uint64_t left = number(); left > 0; --left) array.push_back(value());
    return array;
  }

  toml::Table table() {
    toml::Table table;
    for (std::uint64_t left = number(); left > 0; --left) {
      std::string key = text();
      table.emplace_hint(table.end(), std::move(key), value());
    }
    return table;
  }

  void content(Kind kind, toml::Value& into) {
    switch (kind) {
      case Kind::text:
        into.data = text();
        return;
      case Kind::whole:
        into.data = whole();
        return;
      case Kind::decimal:
        into.data = decimal();
        return;
      case Kind::flag:
        into.data = number() != 0;
        return;
      case Kind::array:
        into.data = array();
        return;
      case Kind::table:
        into.data = table();
        return;
    }
    throw std::logic_error("packed library: unknown kind of value");
  }

  std::string_view rest_;
  const std::string& file_;
};

static_assert(std::is_same_v<std::variant_alternative_t<static_cast<std::size_t>(Kind::table),
                                                        decltype(toml::Value::data)>,
                             toml::Table>,
              "Kind follows the alternatives of Value::data");

}  // namespace

std::string pack(const toml::Value& document) {
  Packer packer;
  packer.value(document);
  return packer.take();
}

toml::Value unpack(std::string_view bytes, const std::string& file) {
  Unpacker unpacker(bytes, file);
  toml::Value document = unpacker.value();
  if (!unpacker.at_end()) throw std::logic_error("packed library: bytes are left over");
  toml::detail::remember_stated(document);
  return document;
}

}  // namespace warmsheet::library
