"""The style sheet of the month's page: neutral greys and one muted accent, kept for what asks to be acted upon."""

STYLE = """
:root { color-scheme: light dark; --paper: #faf9f6; --ink: #22211f; --dim: #66645f; --rule: #d5d3cc;
  --made: #d9d7d0; --kept: #6e6c66; --accent: #8a4b2d; }
@media (prefers-color-scheme: dark) { :root { --paper: #1b1b1a; --ink: #dcdad4; --dim: #98968f; --rule: #3b3a37;
  --made: #45443f; --kept: #a3a198; --accent: #d08a66; } }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.5 system-ui, sans-serif; }
main { max-width: 52rem; margin: 0 auto; padding: 1.5rem 1rem 3rem; }
h1 { font-size: 1.6rem; font-weight: 600; margin: 0 0 1rem; }
h2 { font-size: 1.1rem; font-weight: 600; margin: 2.2rem 0 .6rem; }
h1, h2, p, li, figcaption, td, th { overflow-wrap: anywhere; }
.said p { margin: 0 0 .35rem; max-width: 42rem; }
.textures { position: absolute; }
.pictures { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(20rem, 100%), 1fr)); gap: 1.5rem;
  margin-top: 2rem; }
figure { margin: 0; min-width: 0; break-inside: avoid; }
figcaption { font-size: .85rem; color: var(--dim); margin-bottom: .3rem; }
svg { display: block; width: 100%; height: auto; font: 11px system-ui, sans-serif; }
svg text { fill: var(--ink); } svg .label { fill: var(--dim); }
.made { fill: var(--made); } .kept { fill: var(--kept); } .hatched { fill: url(#hatch); stroke: var(--kept); stroke-width: .6; }
.hatch { stroke: var(--kept); stroke-width: 1; fill: none; }
.base, .zero { stroke: var(--rule); stroke-width: 1; }
.limit { stroke: var(--dim); stroke-width: 1; stroke-dasharray: 4 3; }
.average { stroke: var(--ink); stroke-width: 1.6; fill: none; stroke-linejoin: round; }
.seen { fill: none; stroke: var(--kept); stroke-width: 1; } .signal { fill: var(--accent); }
.wide { overflow-x: auto; }
table { border-collapse: collapse; font-size: .9rem; font-variant-numeric: tabular-nums; width: 100%; }
th { font-weight: 400; color: var(--dim); text-align: left; border-bottom: 1px solid var(--rule); vertical-align: bottom; }
th, td { padding: .2rem .5rem .2rem 0; min-width: 3rem; } td { vertical-align: top; }
th:first-child, td:first-child { min-width: 7rem; white-space: pre-wrap; }
.figures { text-align: right; } td.figures { white-space: nowrap; }
.note { font-size: .85rem; color: var(--dim); margin: .5rem 0 0; max-width: 42rem; }
ul { padding-left: 1.2rem; margin: 0; } li { margin-bottom: .3rem; }
@page { margin: 15mm; }
@media print {
  :root { --paper: #fff; --ink: #000; --dim: #444; --rule: #bbb; --made: #ddd; --kept: #777; --accent: #8a4b2d; }
  body { font-size: 10pt; } main { padding: 0; max-width: none; } .wide { overflow: visible; }
  .pictures { grid-template-columns: 1fr 1fr; gap: 6mm; } h2 { break-after: avoid; margin-top: 7mm; }
  tr, li, figure { break-inside: avoid; } thead { display: table-header-group; } table { font-size: 8.5pt; }
  * { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
"""
