// SPDX-License-Identifier: MIT
// The only file that includes libharu. Its error handler is C code calling back, through which no exception
// may fly; so it gets none, every call goes on after an error, and `take` asks once at the end.
#include "report/pdf_writer.h"

#include <hpdf.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "base/dimension.h"
#include "base/problem.h"
#include "report/clean_text.h"

namespace warmsheet::report {
namespace {

// 1 pt = 1/72 in (ISO 32000-1, 8.3.2.3: the default unit of user space).
constexpr double points_per_mm = 72.0 / inch_mm;

struct PaperSize {
  double width_mm;
  double height_mm;
};

/// ISO 216 A4; ANSI/ASME Y14.1 A (8.5 x 11 in), which North America calls Letter.
PaperSize size_of(Paper paper) {
  return paper == Paper::a4 ? PaperSize{210.0, 297.0} : PaperSize{215.9, 279.4};
}

constexpr float full = 255.0F;

}  // namespace

struct PdfWriter::Pdf {
  HPDF_Doc doc = nullptr;
  HPDF_Page page = nullptr;
  HPDF_Font regular = nullptr;
  HPDF_Font bold = nullptr;
  PaperSize size{};

  [[nodiscard]] HPDF_Font face(bool is_bold) const { return is_bold ? bold : regular; }
};

PdfWriter::PdfWriter(std::string_view title, Paper paper) : pdf_(std::make_unique<Pdf>()) {
  pdf_->doc = HPDF_New(nullptr, nullptr);
  pdf_->size = size_of(paper);
  HPDF_SetCompressionMode(pdf_->doc, HPDF_COMP_ALL);
  // A preset of the print dialogue only (ISO 32000-1, table 150); the boxes to measure remain the proof.
  HPDF_SetViewerPreference(pdf_->doc, HPDF_PRINT_SCALING_NONE);
  HPDF_SetInfoAttr(pdf_->doc, HPDF_INFO_TITLE, latin(title).c_str());
  pdf_->regular = HPDF_GetFont(pdf_->doc, "Helvetica", "WinAnsiEncoding");
  pdf_->bold = HPDF_GetFont(pdf_->doc, "Helvetica-Bold", "WinAnsiEncoding");
}

PdfWriter::~PdfWriter() {
  HPDF_Free(pdf_->doc);
}

double PdfWriter::page_width_mm() const {
  return pdf_->size.width_mm;
}
double PdfWriter::page_height_mm() const {
  return pdf_->size.height_mm;
}

void PdfWriter::add_page() {
  pdf_->page = HPDF_AddPage(pdf_->doc);
  HPDF_Page_SetWidth(pdf_->page, static_cast<float>(pdf_->size.width_mm * points_per_mm));
  HPDF_Page_SetHeight(pdf_->page, static_cast<float>(pdf_->size.height_mm * points_per_mm));
  HPDF_Page_SetLineJoin(pdf_->page, HPDF_ROUND_JOIN);
  placement_ = {};
}

float PdfWriter::x_points(double x) const {
  return static_cast<float>((placement_.x_mm + (x - placement_.left) * placement_.scale) * points_per_mm);
}

float PdfWriter::y_points(double y) const {
  const double from_top_mm = placement_.y_mm + (y - placement_.top) * placement_.scale;
  return static_cast<float>((pdf_->size.height_mm - from_top_mm) * points_per_mm);
}

float PdfWriter::length_points(double length) const {
  return static_cast<float>(length * placement_.scale * points_per_mm);
}

void PdfWriter::clip(double x, double y, double width, double height) {
  HPDF_Page_GSave(pdf_->page);
  HPDF_Page_Rectangle(pdf_->page, x_points(x), y_points(y + height), length_points(width),
                      length_points(height));
  HPDF_Page_Clip(pdf_->page);
  HPDF_Page_EndPath(pdf_->page);
}

void PdfWriter::end_clip() {
  HPDF_Page_GRestore(pdf_->page);
}

void PdfWriter::set_line(const Line& look) {
  HPDF_Page_SetRGBStroke(pdf_->page, static_cast<float>(look.colour.red) / full,
                         static_cast<float>(look.colour.green) / full,
                         static_cast<float>(look.colour.blue) / full);
  HPDF_Page_SetLineWidth(pdf_->page, length_points(look.width));
  // libharu takes whole points only, eight at most.
  std::array<HPDF_UINT16, 8> dash{};
  const std::size_t count = std::min(dash.size(), look.dash.size());
  for (std::size_t i = 0; i < count; ++i)
    dash[i] = static_cast<HPDF_UINT16>(std::max(1.0F, std::round(length_points(look.dash[i]))));
  HPDF_Page_SetDash(pdf_->page, count == 0 ? nullptr : dash.data(), static_cast<HPDF_UINT>(count), 0);
}

void PdfWriter::line(double x1, double y1, double x2, double y2, const Line& look) {
  polyline({{x1, y1}, {x2, y2}}, look);
}

void PdfWriter::polyline(const std::vector<outline::Point>& points, const Line& look) {
  if (points.size() < 2) return;
  set_line(look);
  HPDF_Page_MoveTo(pdf_->page, x_points(points.front().x_mm), y_points(points.front().y_mm));
  for (std::size_t i = 1; i < points.size(); ++i)
    HPDF_Page_LineTo(pdf_->page, x_points(points[i].x_mm), y_points(points[i].y_mm));
  HPDF_Page_Stroke(pdf_->page);
}

void PdfWriter::ring_path(const outline::Ring& ring) {
  if (ring.empty()) return;
  HPDF_Page_MoveTo(pdf_->page, x_points(ring.front().x_mm), y_points(ring.front().y_mm));
  for (std::size_t i = 1; i < ring.size(); ++i)
    HPDF_Page_LineTo(pdf_->page, x_points(ring[i].x_mm), y_points(ring[i].y_mm));
  HPDF_Page_ClosePath(pdf_->page);
}

void PdfWriter::area(const std::vector<outline::Ring>& rings, const Hatching* hatching, const Line* edge) {
  if (hatching != nullptr) fill_with(*hatching, rings);
  if (edge == nullptr) return;
  set_line(*edge);
  for (const outline::Ring& ring : rings) ring_path(ring);
  HPDF_Page_Stroke(pdf_->page);
}

namespace {

outline::Box box_of(const std::vector<outline::Ring>& rings) {
  outline::Box box{rings.front().front(), rings.front().front()};
  for (const outline::Ring& ring : rings)
    for (const outline::Point& point : ring) {
      box.low = {std::min(box.low.x_mm, point.x_mm), std::min(box.low.y_mm, point.y_mm)};
      box.high = {std::max(box.high.x_mm, point.x_mm), std::max(box.high.y_mm, point.y_mm)};
    }
  return box;
}

/// Lines at multiples of the spacing from the origin, so that neighbouring pages continue each other.
std::vector<std::pair<outline::Point, outline::Point>> hatch_lines(const outline::Box& box, double spacing,
                                                                   double angle_deg) {
  const double angle = -rad_of_deg(angle_deg);
  const double along_x = std::cos(angle);
  const double along_y = std::sin(angle);
  double low = HUGE_VAL;
  double high = -HUGE_VAL;
  double first = HUGE_VAL;
  double last = -HUGE_VAL;
  for (const double x : {box.low.x_mm, box.high.x_mm})
    for (const double y : {box.low.y_mm, box.high.y_mm}) {
      const double across = -along_y * x + along_x * y;
      const double along = along_x * x + along_y * y;
      low = std::min(low, across);
      high = std::max(high, across);
      first = std::min(first, along);
      last = std::max(last, along);
    }
  std::vector<std::pair<outline::Point, outline::Point>> lines;
  for (double i = std::ceil(low / spacing); i * spacing <= high; i += 1.0) {
    const double across = i * spacing;
    lines.push_back({{along_x * first - along_y * across, along_y * first + along_x * across},
                     {along_x * last - along_y * across, along_y * last + along_x * across}});
  }
  return lines;
}

}  // namespace

void PdfWriter::fill_with(const Hatching& hatching, const std::vector<outline::Ring>& rings) {
  if (rings.empty() || rings.front().empty()) return;
  HPDF_Page_GSave(pdf_->page);
  for (const outline::Ring& ring : rings) ring_path(ring);
  HPDF_Page_Eoclip(pdf_->page);
  HPDF_Page_EndPath(pdf_->page);
  const outline::Box box = box_of(rings);
  constexpr double right_angle_deg = 90.0;
  for (const double turn : {0.0, right_angle_deg}) {
    if (turn > 0.0 && !hatching.crossed) continue;
    for (const auto& [from, to] : hatch_lines(box, hatching.spacing, hatching.angle_deg + turn))
      line(from.x_mm, from.y_mm, to.x_mm, to.y_mm, hatching.look);
  }
  HPDF_Page_GRestore(pdf_->page);
}

void PdfWriter::rectangle(double x, double y, double width, double height, Colour fill) {
  HPDF_Page_SetRGBFill(pdf_->page, static_cast<float>(fill.red) / full, static_cast<float>(fill.green) / full,
                       static_cast<float>(fill.blue) / full);
  HPDF_Page_Rectangle(pdf_->page, x_points(x), y_points(y + height), length_points(width),
                      length_points(height));
  HPDF_Page_Fill(pdf_->page);
}

double PdfWriter::exact_width(std::string_view content, double size, bool bold) const {
  const std::string shown = latin(content);
  const auto* bytes = reinterpret_cast<const HPDF_BYTE*>(shown.data());
  const HPDF_TextWidth width =
      HPDF_Font_TextWidth(pdf_->face(bold), bytes, static_cast<HPDF_UINT>(shown.size()));
  constexpr double units_per_size = 1000.0;
  return width.width / units_per_size * size;
}

void PdfWriter::text(std::string_view content, const Text& look) {
  const std::string shown = latin(content);
  const double width = exact_width(content, look.size, look.bold);
  double x = look.x;
  if (look.anchor == Text::Anchor::middle) x -= width / 2.0;
  if (look.anchor == Text::Anchor::end) x -= width;
  HPDF_Page_SetFontAndSize(pdf_->page, pdf_->face(look.bold), length_points(look.size));
  const auto put = [&](HPDF_TextRenderingMode mode) {
    HPDF_Page_SetTextRenderingMode(pdf_->page, mode);
    HPDF_Page_BeginText(pdf_->page);
    HPDF_Page_TextOut(pdf_->page, x_points(x), y_points(look.y), shown.c_str());
    HPDF_Page_EndText(pdf_->page);
  };
  if (look.halo) {
    set_line({palette::paper, look.size / 4.0});
    put(HPDF_STROKE);
  }
  HPDF_Page_SetRGBFill(pdf_->page, static_cast<float>(look.colour.red) / full,
                       static_cast<float>(look.colour.green) / full,
                       static_cast<float>(look.colour.blue) / full);
  put(HPDF_FILL);
}

std::string PdfWriter::take() {
  HPDF_SaveToStream(pdf_->doc);
  if (const HPDF_STATUS status = HPDF_GetError(pdf_->doc); status != HPDF_OK)
    throw Failure(Problem{Trouble::write,
                          {},
                          "the PDF could not be made: libharu reports error " + std::to_string(status),
                          "write SVG or HTML instead, and tell the maintainers"});
  std::string bytes(HPDF_GetStreamSize(pdf_->doc), '\0');
  auto size = static_cast<HPDF_UINT32>(bytes.size());
  HPDF_ResetStream(pdf_->doc);
  HPDF_ReadFromStream(pdf_->doc, reinterpret_cast<HPDF_BYTE*>(bytes.data()), &size);
  bytes.resize(size);
  return bytes;
}

}  // namespace warmsheet::report
