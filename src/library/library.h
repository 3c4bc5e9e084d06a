// SPDX-License-Identifier: MIT
// The library of generic sheets and their surroundings, as checked records. Every value is a figure with its
// basis; the TOML behind it is described in materials/README.md.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/figure.h"
#include "base/strict_toml.h"
#include "library/condition.h"

namespace warmsheet::library {

/// A published source that handbook figures name by key (materials/sources.toml).
struct Source {
  std::string id;
  std::string title;
  std::string authors;
  std::string year;     ///< as printed; "n.d." where there is none
  std::string address;  ///< DOI, report number or web address
  std::string quoted_in =
      {};  ///< who quotes it, if nobody here read the source itself; its figures are second hand
};

enum class Lattice { triangular, square };

/// Holes of a perforated sheet; a solid sheet has none.
struct Perforation {
  std::string id;  ///< "solid", "micro", "mini", "maxi"
  std::string name;
  struct Holes {
    Figure diameter;
    Figure pitch;
    Lattice lattice;
    Figure open_area;  ///< ratio; derived from diameter, pitch and lattice
  };
  std::optional<Holes> holes;
};

/// Places on an ordinal scale: they order sheets and are never added up.
enum class Grade { none, low, moderate, high, very_high };
std::string_view grade_word(Grade grade);

struct GradedTrait {
  Grade grade;
  Origin origin;
};

/// Handling on the bench, in the trade's words.
struct Handling {
  GradedTrait memory;
  GradedTrait drape;
  GradedTrait resistance_to_stretch;
  GradedTrait rigidity;
  GradedTrait bonding;
  GradedTrait edge_finish;
  std::string ready_sign;  ///< how the sheet shows that it is ready
  Origin ready_sign_origin;
};

struct Thermal {
  Figure density;              // kg/m3
  Figure conductivity;         // W/mK
  Figure specific_heat_solid;  // J/kgK
  Figure specific_heat_melt;   // J/kgK
  Figure latent_heat;          // J/kg
  Figure melting_start;        // K
  Figure melting_end;          // K
  Figure half_time_42;         // s, crystallisation half-time at 42 C
  Figure emissivity;           // ratio
};

struct Mechanical {
  Figure modulus_23;    // Pa at 23 C
  Figure modulus_37;    // Pa at 37 C
  Figure yield_stress;  // Pa
  Figure poisson;       // ratio
  Figure shrinkage;     // ratio, linear, free, from forming to cold
};

/// What the bench says for one thickness, kept beside what the model says.
struct PracticeTimes {
  Figure thickness;
  Finding heating;  // s in the bath
  Finding working;  // s mouldable after removal
};

struct Practice {
  Figure bath;  ///< usual bath temperature with its usual range
  std::vector<PracticeTimes> by_thickness;
};

/// Sheets of this kind are made so thin and so thick, m.
inline constexpr Limits thickness_limits_m{0.4e-3, 12e-3};

/// One thing that can be bought: a sheet of one thickness and perforation.
struct StockItem {
  std::string id;           ///< unique in its sheet, e.g. "3.2-solid"
  std::string sheet;        ///< id of the sheet it belongs to
  Figure thickness;         // m
  std::string perforation;  ///< id in Library::perforations
  Figure width;             // m, across
  Figure length;            // m, along
  Figure price;             ///< money for one sheet
  Figure pack;              ///< sheets to a pack, ratio
  /// "elastic-clear/3.2-solid"
  [[nodiscard]] std::string key() const { return sheet + "/" + id; }
  /// The same sheet, thickness and holes, perhaps in another size.
  [[nodiscard]] bool differs_only_in_size(const StockItem& other) const;
};

struct Sheet {
  std::string id;
  std::string name;
  std::string family;  ///< "elastic", "draping", "filled", "rubbery", "blended" ...
  std::string about;   ///< one or two sentences for a reader who chooses
  bool face_side;      ///< has one side that must lie outward, so outlines must not be flipped
  Handling handling;
  Thermal thermal;
  Mechanical mechanical;
  Practice practice;
  std::vector<StockItem> stock;

  /// What is meant where only the sheet is named: the item nearest to 3.2 mm, the thickness most taken for an
  /// adult's forearm (common practice, no source), solid before perforated; of that perforation if one is
  /// asked for. nullptr if there is none.
  [[nodiscard]] const StockItem* usual_item(const std::optional<std::string>& perforation) const;
};

/// Hoffman-Lauritzen / Nakamura constants shared by sheets of one polymer; half_time_42 scales them.
struct Crystallisation {
  Figure activation_energy;    // J/mol, U*
  Figure glass_limit;          // K, T_inf
  Figure equilibrium_melting;  // K, Tm0
  Figure nucleation_constant;  // K2, Kg
  Figure avrami_exponent;      // ratio, n
  Figure seed;                 // ratio, crystallinity at the start of cooling
};

struct SkinLayer {
  std::string name;
  Figure thickness;      // m
  Figure conductivity;   // W/mK
  Figure density;        // kg/m3
  Figure specific_heat;  // J/kgK
  Figure perfusion;      // 1/s
};

/// Skin under the sheet and the limit it must keep.
struct SkinKind {
  std::string id;
  std::string name;
  std::vector<SkinLayer> layers;  ///< from the surface inward; the basal layer lies under the first
  Figure peak_limit;              // K, highest basal temperature allowed
  Figure damage_limit;            // ratio, highest damage integral allowed
};

/// What all skin kinds share.
struct Tissue {
  Figure surface_temperature;  // K before contact
  Figure core_temperature;     // K
  Figure blood_density;        // kg/m3
  Figure blood_specific_heat;  // J/kgK
  Figure damage_factor;        // 1/s, P
  Figure damage_activation;    // K difference, dE/R
  Figure damage_threshold;     // K, no damage below
};

/// One of still, floating, stirred.
struct BathState {
  std::string id;
  std::string name;
  Figure film;  // W/m2K
};

/// A layer between sheet and skin, or over the sheet.
struct Covering {
  std::string id;
  std::string name;
  Figure resistance;  // m2K/W
};

struct Surroundings {
  std::map<std::string, BathState> bath_states;
  Figure bath_water;          ///< litres of water in the usual bath
  Figure room;                // K
  Figure relative_humidity;   // ratio
  Figure pressure;            // Pa
  Figure water_film;          // kg/m2 left on each face of a sheet that was not dried
  Figure dried_film;          // kg/m2 left after patting dry
  Figure contact_resistance;  // m2K/W, sheet laid on bare skin
  Figure towel_effusivity;    // W s^0.5/m2K, of the dry towel that a sheet is patted dry on
  Figure air_speed;           // m/s over the forming table, for the limb's own cooling air
  std::map<std::string, Covering> liners;
  std::map<std::string, Covering> wraps;
};

struct Fixing {
  std::string id;
  std::string name;
  std::string kind;       ///< "strap", "edging", "lining"
  Finding width;          // m
  Figure price;           ///< money for one `price_per`
  std::string price_per;  ///< "piece", or "m" of strap and edging, or "m2" of lining
};

/// Usual minutes of the steps around the hot part of the work.
struct BenchTimes {
  Figure cut;       // s, cutting the warm outline
  Figure form;      // s, forming on the limb
  Figure trim;      // s, trimming, flaring and rounding one orthosis
  Figure strap;     // s
  Figure check;     // s, first wear before the skin check
  Figure red_mark;  // s, a mark still there so long after taking it off is a pressure place
};

/// Between outlines and along a sheet's edge: wider than a hand's breadth is a slip of unit.
inline constexpr Limits gap_limits_m{0.0, 0.1};
/// A least side beyond that of a whole sheet would keep nothing.
inline constexpr Limits keep_side_limits_m{0.0, 1.0};

/// Room for scissors and knife, how much of a sheet usually becomes orthosis, and what rest of it is worth
/// keeping (materials/cutting.toml).
struct CuttingHabits {
  Figure spacing;            // m, between two outlines
  Figure margin;             // m, from the sheet's edge
  Figure usual_utilisation;  // ratio
  Figure keep_side;          // m, least length and width of a rest that is kept
  Figure keep_area;          // m2, its least area
};

/// A pattern drawn from measures, as data (materials/designs/*.toml). Expressions are texts here; the outline
/// room evaluates them.
enum class LimbView { palm, back, arm, finger };

/// Where a measure is taken on a drawn limb, in the drawing's own millimetres (report/limb_views).
struct MeasureMark {
  LimbView view;
  bool girth;  ///< a tape round the limb from one border to the other; else a straight distance
  double from_x;
  double from_y;
  double to_x;
  double to_y;
};

struct Measure {
  std::string id;
  std::string name;
  std::string how;  ///< where and how to take it
  Figure usual;     ///< plausible range: low and high are alarms, not limits of the design
  std::optional<MeasureMark> mark = {};
};

struct DesignRule {
  std::string id;
  std::string says;
  Figure factor;  ///< a ratio or a length that expressions use by the rule's id
};

struct DesignVertex {
  std::string x;  ///< expression, e.g. "-0.5*trough_share*forearm_girth"
  std::string y;
  std::string radius;  ///< corner radius as an expression; empty for a sharp corner of a curve
  Place place;
};

/// A hole given by its centre and half axes, as expressions.
struct DesignEllipse {
  std::string x;
  std::string y;
  std::string rx;
  std::string ry;
  Place place;
};

struct DesignRing {
  std::string name;
  std::vector<DesignVertex> vertices;  ///< empty for an ellipse
  std::string id = {};                 ///< "outline", or the id of the hole
  std::optional<DesignEllipse> ellipse = {};
};

struct DesignStrap {
  std::string name;
  std::string fixing;  ///< id of a strap in Library::fixings
  std::string at_y;    ///< expression: where along the limb
  std::string length;  ///< expression
  std::string id = {};
  Place place = {};
};

/// What is done along a line that is no edge to cut.
enum class LineKind { trim, flare, fold };

/// A line to mark on the outline. It is given in one of three ways: corners of its own; along the edge, from
/// one corner of the outline counter-clockwise to another; or around a hole.
struct DesignLine {
  std::string id;
  std::string name;
  LineKind kind;
  std::string why;  ///< what goes wrong without it
  Origin origin;
  std::vector<DesignVertex> points = {};
  /// Its corners may lie beyond the edge; only what lies on material is drawn.
  bool to_edge = false;
  struct Along {
    std::size_t from;  ///< corners, counted from 1 as in the file
    std::size_t to;
  };
  std::optional<Along> along = {};
  std::string around = {};  ///< id of a hole
  std::string inset = {};   ///< expression: distance from the edge it goes along or around
  Place place = {};
};

/// A named expression; what stands after it may use it.
struct DesignLet {
  std::string id;
  std::string is;
  Place place = {};
};

/// What a design is not, though somebody might take it for that.
struct DesignLimit {
  std::string says;  ///< goes on from "it is not": "for a limb that still swells"
  Origin origin;
  std::vector<std::string> precautions;  ///< ids of library/precautions.h that it does not go with
};

struct Design {
  std::string id;
  std::string name;
  std::string about;
  std::string body_part;              ///< of the side it is drawn for: "wrist"
  std::vector<std::string> measures;  ///< ids in Library::measures, all needed
  std::vector<DesignRule> rules;
  std::vector<DesignLet> lets;
  DesignRing outline;
  std::vector<DesignRing> holes;
  std::vector<DesignStrap> straps;
  std::vector<DesignLine> lines;
  std::optional<DesignLimit> is_not;
  Figure form_time;  ///< usual forming time on the limb
  Place place;
  Place measures_place = {};  ///< of the list of measures
};

/// A layer of the library that was found and laid on the ones before it.
struct Layer {
  std::string name;  ///< "built in", "installed", "user", "WARMSHEET_LIBRARY", "--library"
  std::string path;  ///< empty for the built-in one
};

struct Library {
  std::map<std::string, Source> sources;
  std::map<std::string, Perforation> perforations;
  std::map<std::string, Sheet> sheets;
  Crystallisation crystallisation;
  Tissue tissue;
  std::map<std::string, SkinKind> skins;
  Surroundings surroundings;
  std::map<std::string, Fixing> fixings;
  BenchTimes bench_times;
  CuttingHabits cutting;
  std::map<std::string, Measure> measures;
  std::map<std::string, Design> designs;
  std::map<std::string, Condition> conditions;
  std::vector<Layer> layers;
  std::string hash;  ///< of the merged result, 16 hexadecimal digits
  /// While it is read: false if a file could not be, so that a name not found may stand in that one.
  bool all_parsed = true;

  /// These throw a Failure (usage) that names the nearest known id and lists the known ones.
  [[nodiscard]] const Sheet& sheet(std::string_view id) const;
  /// `key` is "sheet/stock", e.g. "elastic-clear/3.2-solid".
  [[nodiscard]] const StockItem& stock_item(std::string_view key) const;
  [[nodiscard]] const SkinKind& skin(std::string_view id) const;
  [[nodiscard]] const BathState& bath_state(std::string_view id) const;
  [[nodiscard]] const Covering& liner(std::string_view id) const;
  [[nodiscard]] const Covering& wrap(std::string_view id) const;
  [[nodiscard]] const Perforation& perforation(std::string_view id) const;
  [[nodiscard]] const Design& design(std::string_view id) const;
  [[nodiscard]] const Condition& condition(std::string_view id) const;
  [[nodiscard]] const Measure& measure(std::string_view id) const;
  [[nodiscard]] const Fixing& fixing(std::string_view id) const;
  /// The same, and of one of these kinds; the known ones are then those of the kinds.
  [[nodiscard]] const Fixing& fixing(std::string_view id, const std::vector<std::string>& kinds) const;
  [[nodiscard]] const Source& source(std::string_view id) const;

  /// Everything that can be bought, by sheet id and then in the order of the sheet's file. Valid as long as
  /// *this.
  [[nodiscard]] std::vector<const StockItem*> all_stock() const;
};

/// A folder to lay over the built-in library.
struct LayerFolder {
  std::string name;
  std::string path;
};

/// The built-in library with these folders laid over it, in this order. A folder that does not exist is a
/// Failure (usage); every slip in the files is reported at once (data).
Library load(const std::vector<LayerFolder>& folders);

}  // namespace warmsheet::library
