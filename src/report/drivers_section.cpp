// SPDX-License-Identifier: MIT
#include "report/drivers_section.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>

namespace warmsheet::report {
namespace {

/// "sheets.x.thermal.latent_heat" reads "latent heat"; a last word that says little alone takes the one
/// before it.
std::string reader_name(const std::string& figure_name) {
  const auto last_from = [&](std::size_t end) {
    const std::size_t dot = figure_name.rfind('.', end);
    return dot == std::string::npos ? std::size_t{0} : dot + 1;
  };
  std::size_t from = last_from(std::string::npos);
  const std::string last = figure_name.substr(from);
  const bool says_little =
      last == "thickness" || last == "resistance" || last == "conductivity" || last == "film";
  if (says_little && from > 1) from = last_from(from - 2);
  std::string name = figure_name.substr(from);
  std::replace_if(
      name.begin(), name.end(), [](char c) { return c == '_' || c == '.' || c == '-'; }, ' ');
  return name;
}

/// What to do about an input whose name holds `part`; the first that matches.
struct Remedy {
  std::string_view part;
  Literal says;
  bool measures = true;
};
constexpr std::array remedies{
    Remedy{"skin.", "people's skin differs, and no reading replaces the test on your own forearm", false},
    Remedy{"tissue.", "people's skin differs, and no reading replaces the test on your own forearm", false},
    Remedy{"crystallisation.", "time how your own sheet stiffens and sets, and calibrate"},
    Remedy{"half_time_42", "time how your own sheet stiffens and sets, and calibrate"},
    Remedy{"latent_heat", "time strips of two thicknesses in your own bath, and calibrate"},
    Remedy{"melting_", "ask the supplier between which temperatures the sheet melts"},
    Remedy{"specific_heat", "ask the supplier for the sheet's heat capacity"},
    Remedy{"conductivity", "ask the supplier for the sheet's thermal conductivity"},
    Remedy{"density", "weigh a piece of known size"},
    Remedy{"open_area", "measure the holes and their distance, and state them in your library"},
    Remedy{"bath_water", "measure how much water your bath holds, and state it"},
    Remedy{"film", "time your own bath, half soft and ready, and calibrate"},
    Remedy{"bath", "hold a thermometer in your own bath, and state what it reads"},
    Remedy{"room", "read the room's thermometer, and state it"},
    Remedy{"area", "measure the blank, and state its size"},
    Remedy{"thickness", "measure the sheet with a caliper, and state its thickness"},
    Remedy{"contact_resistance", "nobody can measure how close it lies on bare skin; a liner matters more",
           false},
    Remedy{"liner.", "liners differ and none was measured; a second layer of yours makes the wait shorter",
           false},
    Remedy{"wrap.", "leave the wrap off: it keeps the heat on the skin", false},
    Remedy{"towel_effusivity", "lay it on the same kind of towel each time, dry and folded once"},
    Remedy{"air_speed", "keep the sheet out of draughts"}};
// These hold "film" too, but are water on the sheet.
constexpr Remedy drying{"_film", "pat it dry the same way each time"};

const Remedy* remedy_for(const std::string& name) {
  if (name.ends_with(drying.part)) return &drying;
  const auto found = std::find_if(remedies.begin(), remedies.end(),
                                  [&](const Remedy& r) { return name.find(r.part) != std::string::npos; });
  return found == remedies.end() ? nullptr : &*found;
}

/// Spread is the root of variance: an input with three quarters of it halves the range. The wait is shown
/// without one: it stands at the far end of its draws, and comes nearer where they do.
Phrase narrowed(const std::string& result, double share, const std::vector<Figure>& inputs) {
  if (result == "wait") return Phrase("may shorten it");
  constexpr double about_half = 0.55;
  constexpr double about_none = 0.1;
  const double left = std::sqrt(std::max(0.0, 1.0 - share));
  if (left <= about_none) return Phrase("would leave hardly any of this range");
  if (left <= about_half) return Phrase("would halve this range");
  // Draws give no more than whole per cents.
  return say("would leave {} of this range",
             Figure::derived("left", Range::exactly(std::round(left * 100.0) / 100.0), units::percent(),
                             "root of the variance that stays when these are known", inputs));
}

Phrase input_of(const heat::Driver& driver) {
  return say("{} ({} of its spread)", Label(reader_name(driver.input.name())), driver.share);
}

/// One line a result; its drivers stand together.
Bullets by_result(const std::vector<heat::Driver>& drivers) {
  Bullets bullets;
  for (std::size_t first = 0; first < drivers.size();) {
    Phrase line = say("{}: {}", Label(reader_name(drivers[first].result)), input_of(drivers[first]));
    double share = drivers[first].share.si();
    std::vector<Figure> inputs{drivers[first].input};
    std::size_t next = first + 1;
    for (; next < drivers.size() && drivers[next].result == drivers[first].result; ++next) {
      line.append(say(", then {}", input_of(drivers[next])));
      share += drivers[next].share.si();
      inputs.push_back(drivers[next].input);
    }
    line.append(inputs.size() > 1 ? Phrase("; knowing both ") : Phrase("; knowing it "));
    bullets.items.push_back(line.append(narrowed(drivers[first].result, share, inputs)));
    first = next;
  }
  return bullets;
}

/// One line a remedy, with the range it narrows most.
Bullets by_remedy(const std::vector<heat::Driver>& drivers) {
  std::vector<std::pair<const Remedy*, const heat::Driver*>> best;
  for (const heat::Driver& driver : drivers) {
    const Remedy* remedy = remedy_for(driver.input.name());
    if (remedy == nullptr) continue;
    const auto at = std::find_if(best.begin(), best.end(),
                                 [&](const auto& b) { return b.first->says.text() == remedy->says.text(); });
    if (at == best.end())
      best.emplace_back(remedy, &driver);
    else if (driver.share.si() > at->second->share.si())
      at->second = &driver;
  }
  Bullets bullets;
  for (const auto& [remedy, driver] : best) {
    Phrase line = say("{}: {}", Label(reader_name(driver->result)), Phrase(remedy->says));
    if (remedy->measures)
      line.append(say("; it {}", narrowed(driver->result, driver->share.si(), {driver->input})));
    bullets.items.push_back(std::move(line));
  }
  return bullets;
}

}  // namespace

Section drivers_section(const std::vector<heat::Driver>& drivers, Detail detail) {
  Section section{"What would narrow the ranges", {}};
  if (detail == Detail::whole)
    section.blocks = {Paragraph{Phrase("The two inputs that widen each range most.")}, by_result(drivers)};
  section.blocks.emplace_back(
      Paragraph{Phrase("What you can do about the ranges. Notes of your own bench go into the library with: "
                       "warmsheet calibrate BENCH.toml")});
  section.blocks.emplace_back(by_remedy(drivers));
  return section;
}

}  // namespace warmsheet::report
