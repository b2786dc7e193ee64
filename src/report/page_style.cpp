#include "report/page_style.hpp"

namespace amptally::report {

// Colours are named once, light and dark; a test reckons their contrast. Print keeps to the light
// ones.
std::string_view page_style() {
  return R"css(
:root {
  --paper: #fcfbf7;
  --card: #f2f0e6;
  --ink: #1d2721;
  --soft: #4f5a52;
  --rule: #c6c9bc;
  --edge: #7b8478;
  --link: #1c5a86;
  --good: #22663a;
  --caution: #7d4b00;
  --bad: #9c231b;
  --sun: #b97c06;
  --charge: #4d8f5c;
  --charge-tint: #cfe3cd;
  --short-tint: #eab9ae;
  --water: #3f87b5;
  color-scheme: light;
}
@media screen and (prefers-color-scheme: dark) {
  :root {
    --paper: #141a17;
    --card: #1f2722;
    --ink: #e9ece5;
    --soft: #b0bab1;
    --rule: #3b463f;
    --edge: #7f8b82;
    --link: #8ec5ec;
    --good: #86d59b;
    --caution: #efbc62;
    --bad: #ff9a8e;
    --sun: #f0b440;
    --charge: #66b57a;
    --charge-tint: #2a4732;
    --short-tint: #6b2f28;
    --water: #5fa9d8;
    color-scheme: dark;
  }
}
* { box-sizing: border-box; }
body {
  margin: 0 auto;
  max-width: 62rem;
  padding: 1rem;
  background: var(--paper);
  color: var(--ink);
  font: 1rem/1.5 system-ui, sans-serif;
  overflow-wrap: anywhere;
}
h1 { font-size: 1.9rem; line-height: 1.2; margin: 0; }
h2 { font-size: 1.35rem; line-height: 1.25; margin: 0 0 0.5rem; }
h3 { font-size: 1.05rem; margin: 1.25rem 0 0.35rem; }
p { margin: 0.5rem 0; max-width: 44rem; }
a { color: var(--link); }
:focus-visible { outline: 2px solid var(--link); outline-offset: 2px; }
header p, .source, .lead-in, footer { color: var(--soft); }
nav ul, ul.keys { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.25rem 1.25rem; }
section { border-top: 1px solid var(--rule); margin-top: 2rem; padding-top: 1.25rem; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 0.35rem 1rem; margin: 1rem 0; }
dt { font-weight: 600; }
dd { margin: 0; }
strong.good { color: var(--good); }
strong.caution { color: var(--caution); }
strong.bad { color: var(--bad); }
.answer, .advice { background: var(--card); border-left: 0.4rem solid var(--edge); padding: 0.75rem 1rem; margin: 1rem 0; }
.answer.good, .advice.good { border-color: var(--good); }
.advice.caution { border-color: var(--caution); }
.answer.bad, .advice.bad { border-color: var(--bad); }
.advice h3 { margin: 0; }
.source { font-size: 0.9rem; }
.site { display: grid; grid-template-columns: minmax(0, 22rem) minmax(0, 1fr); gap: 1rem 2.5rem; align-items: start; }
ul { padding-left: 1.25rem; }
figure { margin: 1rem 0; }
figcaption { font-weight: 600; margin-bottom: 0.5rem; }
.keys { font-size: 0.95rem; margin: 0.75rem 0; }
.keys li { display: flex; gap: 0.5rem; align-items: center; }
.swatch { flex: none; width: 28px; height: 14px; }
.plot { padding-left: 3.25rem; }
svg { display: block; overflow: visible; font-family: system-ui, sans-serif; }
svg.chart, svg.bars { width: 100%; }
svg svg { overflow: hidden; }
svg.parts { width: 100%; max-width: 22rem; }
text { fill: var(--ink); font-size: 14px; }
text.name { font-weight: 600; }
text.figure { fill: var(--soft); }
svg.parts text { font-size: 13px; }
text.month { text-anchor: middle; font-size: 11px; fill: var(--soft); }
text.scale { text-anchor: end; font-size: 12px; fill: var(--soft); }
path, line { fill: none; vector-effect: non-scaling-stroke; }
.grid { stroke: var(--rule); }
.floor { stroke: var(--bad); stroke-width: 2; stroke-dasharray: 6 4; }
.charge-area { fill: var(--charge-tint); }
.below-floor { fill: var(--short-tint); }
.charge-low { stroke: var(--charge); stroke-width: 1.5; }
.charge-mean { stroke: var(--ink); stroke-width: 2; }
.charge-bar { fill: var(--sun); }
.halo { stroke: var(--paper); stroke-width: 7; }
.use-line { stroke: var(--ink); stroke-width: 3; }
.track { fill: var(--card); }
.use-bar { fill: var(--charge); }
.wire { stroke: var(--ink); stroke-width: 2; }
.mark { stroke: var(--ink); stroke-width: 2; }
.stand { stroke: var(--edge); stroke-width: 2; }
.ray { stroke: var(--sun); stroke-width: 3; }
.sun { fill: var(--sun); }
.panel { fill: var(--link); }
.part { fill: var(--paper); stroke: var(--ink); stroke-width: 2; }
.outline { fill: none; stroke: var(--ink); stroke-width: 2; }
.usable { fill: var(--charge); }
.kept { fill: var(--charge-tint); }
.water { fill: var(--water); }
.tube { stroke: var(--water); stroke-width: 4; }
.drop { stroke: var(--water); stroke-width: 2; stroke-dasharray: 2 2; }
.plant { stroke: var(--good); stroke-width: 2; }
.scroll { overflow-x: auto; margin: 0.5rem 0 1rem; }
table { border-collapse: collapse; font-size: 0.9rem; font-variant-numeric: tabular-nums; overflow-wrap: normal; }
th, td { padding: 0.3rem 0.6rem; text-align: right; vertical-align: baseline; }
thead th { vertical-align: bottom; }
th:first-child { padding-left: 0; }
.words { text-align: left; }
td.words { white-space: nowrap; }
tbody th { font-weight: 400; min-width: 8.5rem; }
thead { border-bottom: 2px solid var(--edge); }
tbody tr { border-bottom: 1px solid var(--rule); }
tfoot { border-top: 2px solid var(--edge); font-weight: 600; }
.unit { display: block; font-weight: 400; color: var(--soft); }
details { margin: 0.75rem 0; }
summary { cursor: pointer; color: var(--link); padding: 0.35rem 0; }
pre { background: var(--card); padding: 0.75rem 1rem; overflow-x: auto; font-size: 0.85rem; line-height: 1.4; overflow-wrap: normal; }
footer { border-top: 1px solid var(--rule); margin-top: 2rem; padding: 1rem 0; font-size: 0.9rem; }
@media screen and (max-width: 46rem) {
  .site { grid-template-columns: minmax(0, 1fr); }
  dl { grid-template-columns: minmax(0, 1fr); gap: 0; }
  dd { margin-bottom: 0.6rem; }
  th, td { padding: 0.3rem 0.35rem; }
}
@media print {
  @page { margin: 15mm; }
  body { max-width: none; padding: 0; background: none; font-size: 10.5pt; }
  nav { display: none; }
  a { color: inherit; text-decoration: none; }
  h2, h3, summary, figcaption { break-after: avoid; }
  .lead-in { break-after: avoid; }
  p, svg, .keys, .advice, .answer, .scroll, dl { break-inside: avoid; }
  section { margin-top: 1rem; padding-top: 0.75rem; }
  .answer, .advice, pre { background: none; border: 1px solid var(--edge); border-left-width: 0.4rem; padding: 0.4rem 0.75rem; margin: 0.6rem 0; }
  .site { grid-template-columns: 17.5rem 1fr; }
  .scroll, pre { overflow: visible; }
  pre { white-space: pre-wrap; font-size: 7.5pt; line-height: 1.25; }
  table { font-size: 8.5pt; }
  th, td { padding: 0.15rem 0.4rem; }
  details::details-content { content-visibility: visible; block-size: auto; }
  summary { color: inherit; list-style: none; font-weight: 600; }
  svg { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
)css";
}

}  // namespace amptally::report
