// SPDX-License-Identifier: MIT
#include "library/precautions.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

/// The joint may not move. The caution's text says why.
Precaution keeps_still(std::string_view id, Caution caution) {
  caution.text.append(
      Phrase(": the position while forming is part of the treatment. Let somebody hold the joint, and never "
             "let it leave the prescribed range, not for a measure either: take at the other hand what would "
             "move it."));
  return {id, "", std::move(caution), AtBench::sets_on_limb};
}

}  // namespace

const std::vector<Precaution>& precautions() {
  static const std::vector<Precaution> table{
      {"child",
       thin_skin,
       {"precaution-child",
        Phrase("Child: thinner skin, and no clear word when it is too hot. Use a liner, let "
               "the guardian hold the limb.")},
       AtBench::usual,
       Under::liner},
      {"elder",
       thin_skin,
       {"precaution-elder", Phrase("Elder: thin, slowly healing skin that feels heat late. Use a liner.")},
       AtBench::usual,
       Under::liner},
      {"reduced-sensation",
       reduced_skin,
       {"precaution-reduced-sensation",
        Phrase(
            "Reduced sensation: the person cannot warn you. Test twice on yourself, look at the skin during "
            "forming, and teach looking instead of feeling.")}},
      {"reduced-circulation",
       reduced_skin,
       {"precaution-reduced-circulation",
        Phrase("Reduced circulation: heat is carried away slowly and wounds heal badly. No tight straps.")}},
      {"swelling",
       thin_skin,
       {"precaution-swelling", Phrase("Swelling: no closed circle around the limb, wide straps, and refit as "
                                      "the girth changes.")}},
      {"graft",
       reduced_skin,
       {"precaution-graft",
        Phrase("Grafted skin: no hot sheet on it without the prescriber's word; form over a "
               "dressing and a liner, and avoid shear.")},
       AtBench::wrapped_on,
       Under::dressing_and_liner},
      {"fragile-skin",
       thin_skin,
       {"precaution-fragile-skin",
        Phrase("Fragile skin: form over a liner and the padding it will have, flare "
               "every edge, and check the skin more often.")},
       AtBench::usual,
       Under::liner},
      {"open-wound",
       "",
       {"precaution-open-wound", Phrase("Open wound: keep sheet and bath water off it; dress it first and "
                                        "follow infection control.")},
       AtBench::usual,
       Under::dressing},
      keeps_still("recent-repair", {"precaution-recent-repair", Phrase("Recent repair")}),
      keeps_still("fresh-injury", {"precaution-fresh-injury", Phrase("Fresh tendon injury or fracture")}),
  };
  return table;
}

namespace {

template <class Asks>
bool any_asks(const std::vector<std::string>& ids, Asks asks) {
  return std::any_of(precautions().begin(), precautions().end(), [&](const Precaution& precaution) {
    return asks(precaution) && std::find(ids.begin(), ids.end(), precaution.id) != ids.end();
  });
}

}  // namespace

bool ask_for_dressing(const std::vector<std::string>& ids) {
  return any_asks(ids, [](const Precaution& precaution) {
    return precaution.under == Under::dressing || precaution.under == Under::dressing_and_liner;
  });
}

bool ask_for_liner(const std::vector<std::string>& ids) {
  return any_asks(ids, [](const Precaution& precaution) {
    return precaution.under == Under::liner || precaution.under == Under::dressing_and_liner;
  });
}

bool ask_for(AtBench at_bench, const std::vector<std::string>& ids) {
  return any_asks(ids, [&](const Precaution& precaution) { return precaution.at_bench == at_bench; });
}

std::vector<std::string> read_precautions(toml::Reader& reader) {
  std::vector<std::string> known;
  for (const Precaution& precaution : precautions()) known.emplace_back(precaution.id);
  std::vector<std::string> ids = reader.texts_if("precautions");
  for (const std::string& id : ids) {
    if (std::find(known.begin(), known.end(), id) != known.end()) continue;
    reader.problem("precautions", fmt::format("\"{}\" is no precaution known here", clip(id, 40)),
                   known_hint(id, known));
  }
  return ids;
}

}  // namespace warmsheet::library
