// SPDX-License-Identifier: MIT
// What about a person asks for more care. The list is the program's own and no library folder changes it: it
// could only take a warning away.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/caution.h"
#include "base/strict_toml.h"

namespace warmsheet::library {

/// Kinds of skin.toml that precautions ask for.
inline constexpr std::string_view thin_skin = "thin";
inline constexpr std::string_view reduced_skin = "reduced";

/// What a precaution changes at the bench.
enum class AtBench {
  usual,
  sets_on_limb,  ///< the joint may not move: the sheet stays on until it is set
  wrapped_on,    ///< held by a gauze wrap at first, not by straps
};

/// What the sheet is formed over.
enum class Under { skin, liner, dressing, dressing_and_liner };

/// The liner that is planned where one is asked for and none is named.
inline constexpr std::string_view usual_liner = "stockinette";

struct Precaution {
  std::string_view id;    ///< as jobs and conditions write it: "swelling", "graft", ...
  std::string_view skin;  ///< kind of skin it asks for; empty if any will do
  Caution caution;
  AtBench at_bench = AtBench::usual;
  Under under = Under::skin;
};

const std::vector<Precaution>& precautions();

/// True if one of these ids asks for a dressing under the sheet.
bool ask_for_dressing(const std::vector<std::string>& ids);
/// Likewise for a liner.
bool ask_for_liner(const std::vector<std::string>& ids);

/// True if one of these ids asks for it.
bool ask_for(AtBench at_bench, const std::vector<std::string>& ids);

/// The ids under `precautions`, each of them known; those that are not are problems of the reader.
std::vector<std::string> read_precautions(toml::Reader& reader);

}  // namespace warmsheet::library
