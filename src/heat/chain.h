// SPDX-License-Identifier: MIT
// The whole way of one case: bath, air, limb.
#pragma once

#include <optional>

#include "heat/bath.h"
#include "heat/limb.h"

namespace warmsheet::heat {

/// Runs end here whatever happens: nobody at a bench waits an hour, and a result that is longer is "an hour
/// or more".
inline constexpr double longest_run_s = 3600.0;

/// What can be known before anybody decides when to lay the sheet on. Times that did not come within
/// `longest_run_s` are that long.
struct BeforeContact {
  double half_soft_s;
  double ready_s;
  double bath_drop_K;
  double edge_reach_m;  ///< with the edge in until it is ready
  double bath_scald_s;  ///< the back of a bare hand in the water
  double palm_scald_s;  ///< its palm
  double wait_s;
  bool melts;            ///< became ready
  bool ever_safe;        ///< `wait_s` was found
  ContactGuess contact;  ///< the sheet at that moment: where a similar case looks first
};
BeforeContact before_contact(const Case& c, const ContactGuess& guess);
/// For the first case, when nothing similar is known.
BeforeContact before_contact(const Case& c);

struct AfterContact {
  double closes_s;
  double holds_s;
  double set_s;
  double peak_K;
  double damage;
  bool sets;  ///< `set_s` was found
};
/// Laid on `contact_s` after removal and left there. Moments that do not come within `longest_run_s` of
/// contact are that long after it.
AfterContact after_contact(const Case& c, double contact_s);

/// Curves of one case for the plots.
struct Curves {
  Track bath_middle_K;    ///< since immersion
  Track sheet_surface_K;  ///< since removal: in air, then on the limb
  Track crystallinity;    ///< since removal
  Track skin_basal_K;     ///< since contact
  Track bath_molten_m;    ///< since immersion
  Track skin_damage;      ///< since contact
};
Curves curves_of(const Case& c, double contact_s);

}  // namespace warmsheet::heat
