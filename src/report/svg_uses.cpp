#include "report/svg_uses.hpp"

#include <string>

#include <fmt/format.h>

#include "report/document_html.hpp"
#include "report/svg.hpp"
#include "report/table.hpp"
#include "report/text.hpp"
#include "report/year_tables.hpp"

namespace amptally::report {
namespace {

constexpr double kRow_px = 44;
constexpr double kBar_px = 16;
constexpr std::size_t kUseNameColumns = 20;  // what leaves room for the figures on a phone

std::string use_text(const Use& use) {
  return fmt::format("{}: {} Ah a day, {} %", shortened(printable(use.name), kUseNameColumns),
                     rounded(use.ah_day, use.ah_day < 0.1 ? 2 : 1), rounded(100 * use.share, 0));
}

Html use_html(const Use& use, double top_px) {
  const double bar_px = top_px + 22;
  return svg_text("0", top_px + 15, "name", use_text(use)) +
         bar_html({"track", 0, 1, bar_px, kBar_px}) +
         bar_html({"use-bar", 0, use.share, bar_px, kBar_px});
}

}  // namespace

Html uses_figure(const Balance& balance) {
  if (balance.uses.empty()) return {};
  Html inside;
  double top_px = 0;
  for (const Use& use : balance.uses) {
    inside += use_html(use, top_px);
    top_px += kRow_px;
  }
  const Use& largest = balance.uses.front();
  const std::string title = "Who asks for the charge";
  const Svg svg{.id = "uses",
                .title = title,
                .description = fmt::format("A bar each, the largest first: {}, {} % of all.",
                                           largest.name, rounded(100 * largest.share, 0)),
                .css_class = "bars",
                .height_px = top_px,
                .inside = inside};
  return element("figure",
                 element("figcaption", html_text(title)) + svg_html(svg) +
                     folded("The same in figures", table_html(use_table(balance), title)));
}

}  // namespace amptally::report
