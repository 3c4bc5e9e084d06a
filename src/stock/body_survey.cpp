// SPDX-License-Identifier: MIT
// Sources. Adults: outline/survey.h. Children: Snyder and others, Anthropometry of Infants, Children, and
// Youths to Age 18 for Product Safety Design, UM-HSRI-77-17 (1977); means and standard deviations by age and
// sex computed from its individual records. The soldiers are fit and not swollen, the children were measured
// half a century ago: good for how sizes spread, not for anybody's own orthosis.
#include "stock/body_survey.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>

#include "base/calendar.h"
#include "base/dimension.h"
#include "outline/population.h"
#include "stock/probability.h"

namespace warmsheet::stock {

using outline::Survey;
using outline::Surveyed;
using outline::SurveyRow;

namespace {

constexpr double most_sd = 3.0;

struct MeanSd {
  double mean_mm;
  double sd_mm;
};
/// Hand length, hand breadth, wrist girth, forearm girth, radiale-stylion length; girls, then boys.
struct AgeGroup {
  double from_yr;
  std::array<std::array<MeanSd, 5>, 2> sex;
};
constexpr std::array children_1977{
    AgeGroup{2,
             {{{{{103.3, 6.1}, {49.7, 3.4}, {112.2, 8.7}, {155.2, 10.0}, {131.7, 10.2}}},
               {{{107.4, 7.9}, {52.1, 4.1}, {114.3, 8.0}, {158.2, 10.6}, {137.3, 11.7}}}}}},
    AgeGroup{3.5,
             {{{{{114.5, 7.5}, {53.7, 3.5}, {114.2, 8.7}, {159.6, 10.1}, {146.9, 11.8}}},
               {{{114.1, 7.0}, {54.4, 3.4}, {115.9, 8.6}, {160.8, 10.6}, {144.9, 11.3}}}}}},
    AgeGroup{4.5,
             {{{{{119.6, 7.0}, {55.3, 3.5}, {117.4, 8.6}, {165.0, 11.1}, {157.6, 11.1}}},
               {{{120.5, 8.6}, {57.0, 3.6}, {118.3, 7.8}, {166.4, 11.0}, {156.7, 12.6}}}}}},
    AgeGroup{5.5,
             {{{{{125.7, 6.9}, {58.2, 3.6}, {121.6, 7.7}, {168.2, 10.9}, {161.3, 12.5}}},
               {{{128.7, 8.4}, {60.3, 3.9}, {121.9, 7.8}, {172.4, 12.5}, {172.9, 10.9}}}}}},
    AgeGroup{6.5,
             {{{{{131.5, 7.5}, {60.4, 3.6}, {124.2, 11.0}, {176.0, 15.4}, {171.6, 13.5}}},
               {{{133.9, 8.5}, {62.9, 3.9}, {124.1, 8.4}, {178.8, 13.1}, {183.9, 15.1}}}}}},
    AgeGroup{7.5,
             {{{{{136.9, 7.1}, {62.6, 4.0}, {129.6, 9.9}, {183.1, 15.1}, {178.2, 13.4}}},
               {{{139.3, 8.3}, {65.3, 3.8}, {127.0, 10.4}, {186.3, 15.5}, {193.6, 13.4}}}}}},
    AgeGroup{8.5,
             {{{{{143.7, 9.5}, {64.9, 3.9}, {132.9, 10.5}, {189.6, 16.4}, {187.7, 14.1}}},
               {{{145.1, 9.2}, {67.4, 4.0}, {131.0, 11.3}, {191.8, 14.8}, {199.9, 14.7}}}}}},
    AgeGroup{9.5,
             {{{{{149.7, 9.0}, {66.9, 4.1}, {134.6, 15.2}, {194.8, 16.4}, {198.7, 16.8}}},
               {{{150.6, 8.5}, {69.8, 3.7}, {135.0, 12.1}, {198.1, 17.2}, {207.0, 11.1}}}}}},
    AgeGroup{10.5,
             {{{{{156.7, 10.6}, {69.9, 5.3}, {136.2, 14.3}, {202.7, 20.2}, {207.4, 19.1}}},
               {{{155.5, 9.4}, {71.8, 3.9}, {133.5, 9.3}, {206.7, 17.1}, {213.5, 13.2}}}}}},
    AgeGroup{11.5,
             {{{{{162.8, 9.9}, {71.9, 4.4}, {141.1, 11.8}, {207.7, 18.0}, {218.4, 17.2}}},
               {{{162.4, 10.3}, {74.5, 4.9}, {142.7, 11.6}, {212.2, 17.4}, {228.1, 16.9}}}}}},
    AgeGroup{12.5,
             {{{{{168.6, 9.8}, {74.6, 4.3}, {145.4, 11.2}, {215.9, 15.6}, {225.0, 18.9}}},
               {{{168.9, 11.2}, {77.8, 5.5}, {147.3, 12.1}, {222.7, 20.0}, {235.5, 19.3}}}}}},
    AgeGroup{13.5,
             {{{{{170.1, 8.9}, {74.9, 4.0}, {147.5, 8.6}, {219.1, 16.5}, {229.1, 15.0}}},
               {{{178.4, 11.9}, {82.6, 5.9}, {156.9, 12.0}, {236.8, 18.5}, {248.4, 20.8}}}}}},
    AgeGroup{14.5,
             {{{{{173.1, 8.9}, {75.1, 3.6}, {150.9, 9.8}, {227.5, 15.9}, {233.6, 17.3}}},
               {{{182.3, 10.1}, {85.0, 5.4}, {156.9, 10.6}, {247.0, 21.5}, {252.8, 15.8}}}}}},
    AgeGroup{15.5,
             {{{{{172.0, 9.1}, {75.6, 4.5}, {152.3, 10.8}, {230.4, 14.3}, {235.3, 17.2}}},
               {{{188.6, 9.8}, {88.0, 5.2}, {167.5, 13.9}, {261.4, 23.2}, {263.8, 15.3}}}}}},
    AgeGroup{16.5,
             {{{{{171.1, 8.7}, {75.3, 4.4}, {149.9, 11.9}, {231.4, 16.7}, {232.3, 14.5}}},
               {{{188.7, 9.2}, {88.5, 4.2}, {166.5, 12.7}, {266.9, 18.9}, {267.1, 12.4}}}}}},
    AgeGroup{17.5,
             {{{{{172.6, 8.0}, {75.9, 4.0}, {149.9, 13.4}, {229.9, 17.0}, {231.8, 15.6}}},
               {{{191.4, 8.8}, {89.9, 4.6}, {172.2, 15.6}, {276.5, 18.9}, {272.1, 18.4}}}}}},
};

const Survey& adults(bool women) {
  return women ? outline::women_surveyed() : outline::men_surveyed();
}

/// Standard deviations away from the mean, correlated.
SurveyRow draw_deviations(nesting::Random& random, bool woman) {
  SurveyRow independent{};
  // An open interval: 0 has no quantile.
  for (double& z : independent) z = normal_quantile(random.unit() * (1.0 - 0x1p-52) + 0x1p-53);
  SurveyRow away = adults(woman).deviations(independent);
  for (double& deviation : away) deviation = std::clamp(deviation, -most_sd, most_sd);
  return away;
}

/// Where the five measures of the children's survey stand among the adults' seven; hand girth and palm length
/// were not taken then and keep the adults' ratio to hand breadth and hand length.
constexpr std::array<Surveyed, 5> taken_in_1977{outline::hand, outline::breadth, outline::wrist,
                                                outline::forearm, outline::radius};

const AgeGroup& group_at(double age_yr) {
  const AgeGroup* found = &children_1977.front();
  for (const AgeGroup& group : children_1977)
    if (age_yr >= group.from_yr) found = &group;
  return *found;
}

/// A measure that is not shipped follows the hand's length.
Surveyed followed_by(std::string_view measure) {
  return outline::surveyed_behind(measure).value_or(outline::hand);
}

double adult_mean(Surveyed taken) {
  return 0.5 * (outline::women_surveyed().mean_mm[taken] + outline::men_surveyed().mean_mm[taken]);
}

/// Of several groups of people: their mean, and from 5 % of the smallest group to 95 % of the largest.
class HandLengths {
 public:
  void add(const MeanSd& group, double share) {
    if (share <= 0.0) return;
    sum_mm_ += share * group.mean_mm;
    shares_ += share;
    low_mm_ = std::min(low_mm_, group.mean_mm - bound_sd * group.sd_mm);
    high_mm_ = std::max(high_mm_, group.mean_mm + bound_sd * group.sd_mm);
  }
  /// \pre a group was added
  [[nodiscard]] Range range_m() const { return Range{sum_mm_ / shares_, low_mm_, high_mm_}.times(m_per_mm); }

 private:
  double sum_mm_ = 0.0;
  double shares_ = 0.0;
  double low_mm_ = std::numeric_limits<double>::infinity();
  double high_mm_ = 0.0;
};

}  // namespace

SurveyRow draw_adult(nesting::Random& random, bool woman) {
  const Survey& survey = adults(woman);
  const SurveyRow deviations = draw_deviations(random, woman);
  SurveyRow person{};
  for (std::size_t i = 0; i < outline::surveyed_count; ++i)
    person[i] = survey.mean_mm[i] + deviations[i] * survey.sd_mm[i];
  return person;
}

SurveyRow draw_child(nesting::Random& random, bool girl, double age_yr) {
  const SurveyRow deviations = draw_deviations(random, girl);
  const auto& group = group_at(age_yr).sex[girl ? 0 : 1];
  const Survey& adult = adults(girl);
  SurveyRow person{};
  for (std::size_t i = 0; i < taken_in_1977.size(); ++i) {
    const std::size_t at = taken_in_1977[i];
    person[at] = group[i].mean_mm + deviations[at] * group[i].sd_mm;
  }
  const auto in_proportion = [&](Surveyed missing, Surveyed known) {
    return person[known] * adult.mean_mm[missing] / adult.mean_mm[known];
  };
  person[outline::palm] = in_proportion(outline::palm, outline::hand);
  person[outline::girth] = in_proportion(outline::girth, outline::breadth);
  return person;
}

SurveyRow draw_person(nesting::Random& random, const People& people) {
  const bool female = random.unit() < people.women.si();
  if (!people.children) return draw_adult(random, female);
  const double age_s = random.between(people.children->youngest.si(), people.children->oldest.si());
  return draw_child(random, female, age_s / year_s);
}

outline::Measures measures_of(const SurveyRow& person, const std::vector<std::string>& wanted,
                              const library::Library& library, const std::vector<Figure>& rests_on) {
  outline::Measures measures;
  for (const std::string& id : wanted) {
    const Figure& adult = library.measure(id).usual;
    const Surveyed taken = followed_by(id);
    const double value_m = adult.si() * person[taken] / adult_mean(taken);
    std::vector<Figure> behind = rests_on;
    behind.push_back(adult);
    measures.emplace(id, Figure::derived(id, Range::exactly(value_m), units::millimetre(),
                                         "one of many drawn from the survey", behind));
  }
  return measures;
}

std::vector<Figure> behind_sizes(const People& people) {
  std::vector<Figure> figures{people.women};
  HandLengths adults_hands;  // of both sexes whatever the share: the survey is one figure for every kind
  for (const bool woman : {true, false})
    adults_hands.add({adults(woman).mean_mm[outline::hand], adults(woman).sd_mm[outline::hand]}, 0.5);
  figures.push_back(Figure::stated(
      "spread of adult sizes, as hand length", adults_hands.range_m(), units::millimetre(),
      {.basis = Basis::handbook,
       .source = "army-anthropometry-2012",
       .where = "means, spreads and correlations of seven measures, computed from the public records"}));
  if (!people.children) return figures;
  figures.push_back(people.children->youngest);
  figures.push_back(people.children->oldest);
  const double youngest_yr = people.children->youngest.si() / year_s;
  const double oldest_yr = people.children->oldest.si() / year_s;
  HandLengths hands;
  for (const AgeGroup* group = &group_at(youngest_yr); group <= &group_at(oldest_yr); ++group)
    for (const bool girl : {true, false})
      hands.add(group->sex[girl ? 0 : 1][0], girl ? people.women.si() : 1.0 - people.women.si());
  figures.push_back(
      Figure::stated(fmt::format("hand length of children, {:g} to {:g} years", youngest_yr, oldest_yr),
                     hands.range_m(), units::millimetre(),
                     {.basis = Basis::handbook,
                      .source = "child-anthropometry-1977",
                      .where = "means and spreads by age and sex, computed from the individual records"}));
  return figures;
}

}  // namespace warmsheet::stock
