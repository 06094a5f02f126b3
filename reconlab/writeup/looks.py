"""How does a page look? One style for the screen, the phone, the dark and the printer; nothing is loaded."""

ARTICLE = """
:root { color-scheme: light dark; --paper: #fdfcf9; --ink: #211f1b; --soft: #5d574d; --line: #cfc8ba;
  --faint: #f3efe6; --lit: #7a3b12;
  --serif: Charter, "Bitstream Charter", "Iowan Old Style", Cambria, Georgia, "Noto Serif", serif; }
@media (prefers-color-scheme: dark) { :root { --paper: #191815; --ink: #e8e3d8; --soft: #aca496; --line: #4a463e;
  --faint: #24221d; --lit: #e3b48f; } }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 1.0625rem/1.55 var(--serif);
  font-variant-numeric: lining-nums; overflow-wrap: break-word; }
a { color: inherit; text-decoration: none; }
a[rel], nav a { text-decoration: underline; text-decoration-color: var(--line); text-decoration-thickness: .06em;
  text-underline-offset: .18em; }
a:hover, a:focus-visible { color: var(--lit); text-decoration: underline; }
:focus-visible { outline: 2px solid var(--lit); outline-offset: 2px; }
.skip { position: absolute; left: -999rem; }
.skip:focus { left: 1rem; top: 1rem; background: var(--paper); padding: .5rem; z-index: 9; }
.page { max-width: 46rem; margin: 0 auto; padding: 3.2rem 1.25rem 4rem; }
h1, h2, h3 { line-height: 1.22; font-weight: 600; text-wrap: balance; hyphens: manual; }
h1 { font-size: 2.3rem; letter-spacing: -.01em; margin: 0 0 .8rem; }
h2 { font-size: 1.32rem; font-weight: 400; font-variant-caps: small-caps; letter-spacing: .045em;
  margin: 2.6rem 0 .8rem; padding-bottom: .22rem; border-bottom: 1px solid var(--line); }
h3 { font-size: 1.08rem; font-weight: 400; font-style: italic; margin: 1.6rem 0 .45rem; }
p, .p { margin: 0 0 .8rem; position: relative; }
ul, ol { padding-left: 1.35rem; margin: 0 0 .9rem; }
li { margin: .25rem 0; position: relative; }
header .lead { font-size: 1.2rem; line-height: 1.5; color: var(--soft); font-style: italic; }
.label { display: inline-block; border: 1px solid var(--ink); padding: .1rem .6rem; font-size: .95rem;
  letter-spacing: .04em; }
.care, .stop { border-left: 3px solid var(--ink); padding: .1rem 0 .1rem .9rem; }
.stop { border-left-width: 7px; font-weight: 600; }
.p.printed { display: none; }
nav { margin: 1.6rem 0 0; font-size: .96rem; line-height: 1.75; color: var(--soft); }
nav span { font-style: italic; } nav a { color: var(--ink); white-space: nowrap; }
code { font-family: ui-monospace, Consolas, "DejaVu Sans Mono", monospace; font-size: .86em; background: var(--faint);
  padding: .1em .3em; overflow-wrap: anywhere; -webkit-box-decoration-break: clone; box-decoration-break: clone; }
pre { font: inherit; white-space: pre-wrap; margin: 0; padding: 1rem 1.3rem; background: var(--faint);
  border-left: 1px solid var(--line); border-right: 1px solid var(--line); }
figure { margin: 1.2rem 0 1.4rem; }
figcaption { font-size: .97rem; color: var(--soft); margin-top: .5rem; position: relative; }
.drawing svg { display: block; width: 100%; max-width: 28rem; height: auto; }
.drawing figcaption strong { color: var(--ink); font-weight: 400; }
.wrap { position: relative; margin: 1rem 0 1.4rem; }
table { border-collapse: collapse; width: 100%; font-size: .97rem; line-height: 1.42;
  border-top: 1.5px solid var(--ink); border-bottom: 1.5px solid var(--ink); }
caption { text-align: left; font-style: italic; color: var(--soft); padding: 0 0 .45rem; }
th, td { text-align: left; vertical-align: top; padding: .4rem 1rem .4rem 0; font-weight: 400; }
th:last-child, td:last-child { padding-right: 0; }
thead th { border-bottom: 1px solid var(--ink); font-style: italic; vertical-align: bottom; }
tbody tr + tr > * { border-top: 1px solid var(--line); } tbody th { font-weight: 600; }
.figures td { font-variant-numeric: lining-nums tabular-nums; }
.figures td > .why:only-child > summary, .figures td > .keep:only-child summary { white-space: nowrap; }
.marks { font-size: .68em; line-height: 0; font-weight: 400; font-style: normal; letter-spacing: .01em;
  vertical-align: baseline; position: relative; top: -.48em; }
.marks a { padding: .5em .08em; }
.why { display: inline-block; white-space: normal; } .keep { white-space: nowrap; }
.why > summary { display: inline; list-style: none; cursor: pointer; border-bottom: 1px dotted var(--soft); }
.why > summary::-webkit-details-marker { display: none; }
.why > summary:hover, .why[open] > summary { border-bottom: 1px solid var(--lit); color: var(--lit); }
.note { position: absolute; left: 0; right: 0; z-index: 2; margin: .35rem 0 0; padding: .7rem 1rem;
  background: var(--paper); border: 1px solid var(--ink); box-shadow: 0 .4rem 1.4rem rgb(0 0 0 / .22);
  font-size: .94rem; line-height: 1.45; font-weight: 400; font-style: normal; color: var(--ink); text-align: left;
  white-space: normal; }
.note i, .all i { color: var(--soft); font-size: .94em; }
.chain { list-style: none; margin: 0; padding: 0; }
.chain .chain { padding-left: .9rem; margin-left: .1rem; border-left: 1px solid var(--line); }
.chain li { margin: .22rem 0; }
.references { padding-left: 2.1rem; font-size: .95rem; line-height: 1.42; }
.references li { padding-left: .2rem; }
.references li:target { background: var(--faint); outline: .4rem solid var(--faint); }
.ticks { list-style: none; padding-left: 0; }
.ticks li { padding-left: 1.9rem; }
.ticks .box { position: absolute; left: 0; top: .2em; }
.box { display: inline-block; width: 1.05em; height: 1.05em; border: 1.5px solid currentColor;
  vertical-align: -.15em; }
.blank { display: inline-block; min-width: 7rem; border-bottom: 1px solid currentColor; height: 1.5em;
  vertical-align: bottom; }
td .blank { min-width: 5.5rem; width: 100%; }
.printed-notes { display: none; }
footer { margin-top: 3rem; padding-top: .8rem; border-top: 1px solid var(--line); color: var(--soft);
  font-size: .95rem; }
@media (max-width: 40rem) {
  .page { padding: 2rem 1rem 3rem; }
  h1 { font-size: 1.8rem; }
  nav { line-height: 2.1; }
  h2 { margin-top: 2.2rem; }
  .stack, .stack tbody, .stack tr, .stack th, .stack td, .stack caption { display: block; width: auto; }
  .stack { border-top: 0; } .stack tbody { border-top: 1.5px solid var(--ink); }
  .stack thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .stack tr { padding: .6rem 0; }
  .stack tbody tr + tr { border-top: 1px solid var(--line); }
  .stack tbody tr > *, .stack tbody tr + tr > * { border: 0; padding: .16rem 0; }
  .stack td[data-label]::before { content: attr(data-label) ": "; font-style: italic; color: var(--soft); }
  .stack td:empty { display: none; }
  .stack td .why[open] { display: inline; }
  .stack td .note { position: static; box-shadow: none; display: block; }
  .stack td { position: relative; } .stack td .blank { width: 9rem; min-width: 0; }
}
@media print {
  @page { size: A4; margin: 14mm 16mm 15mm; @bottom-center { content: counter(page); font: 9pt Georgia, serif; } }
  :root { color-scheme: light; --paper: #fff; --ink: #000; --soft: #333; --line: #999; --faint: #fff; --lit: #000; }
  body { font-size: 9.4pt; line-height: 1.32; }
  .page { max-width: none; padding: 0; }
  h1 { font-size: 19pt; margin-bottom: .4rem; }
  h2 { font-size: 12pt; margin: .75rem 0 .3rem; padding-bottom: .1rem; }
  h3 { font-size: 10pt; margin: .6rem 0 .2rem; }
  header .lead { font-size: 10.5pt; line-height: 1.35; }
  p, .p { margin-bottom: .35rem; } ul, ol { margin-bottom: .4rem; } li { margin: .08rem 0; }
  .label { font-size: 9pt; } .skip, nav, .note { display: none !important; }
  .p.printed { display: block; }
  .why > summary { border: 0; }
  a, a[rel] { text-decoration: none; }
  h2, h3, caption { break-after: avoid; }
  tr, li, figure, pre { break-inside: avoid; }
  thead { display: table-header-group; break-after: avoid; } tbody tr:first-child { break-before: avoid; }
  pre { border: 1px solid var(--line); padding: .35rem .8rem; } figure { margin: .4rem 0 .5rem; }
  .wrap { margin: .35rem 0 .55rem; } table { font-size: 8.6pt; line-height: 1.28; }
  th, td { padding: .12rem .8rem .12rem 0; } caption { padding-bottom: .2rem; }
  .drawing svg { max-width: 80mm; } figcaption { font-size: 8.6pt; margin-top: .2rem; }
  .care, .stop { break-inside: avoid; }
  .printed-notes { display: block; }
  .printed-notes .all { columns: 2; column-gap: 6mm; font-size: 7pt; line-height: 1.22; list-style: none; padding: 0;
    text-align: left; hyphens: auto; }
  .printed-notes .all > li { break-inside: auto; margin: 0 0 .16rem; padding-left: .7em; text-indent: -.7em; }
  .references { columns: 2; column-gap: 6mm; font-size: 7.1pt; line-height: 1.22; padding-left: 1.7em; hyphens: auto; }
  .references li { margin: 0 0 .1rem; }
  footer { margin-top: .6rem; padding-top: .3rem; font-size: 8pt; }
}
"""

SHEET = """
.sheet .page { max-width: 52rem; } .sheet .lead { font-style: normal; color: var(--ink); font-size: 1.12rem; }
.sheet main { counter-reset: weighing; }
.now { font-style: italic; margin: 1.1rem 0 .2rem; color: var(--soft); break-after: avoid; }
.weighings { list-style: none; margin: 0; padding: 0; }
.weighings > li { counter-increment: weighing; display: grid; align-items: center; margin: 0; padding: .5rem 0;
  grid-template-columns: 1.9rem 1.9rem 1fr 8rem 11rem; border-top: 1px solid var(--line); }
.weighings > li::before { content: counter(weighing); font-variant-numeric: oldstyle-nums; font-size: 1.15rem;
  color: var(--soft); }
.what { font-size: 1.15rem; line-height: 1.3; padding-right: 1rem; }
.how { display: block; font-size: .92rem; color: var(--soft); }
.amount { font-size: 1.75rem; line-height: 1.15; text-align: right; white-space: nowrap;
  font-variant-numeric: lining-nums tabular-nums; padding-right: 1.4rem; }
.amount .note { font-size: .94rem; }
.taken { color: var(--soft); white-space: nowrap; text-align: right; }
.signed { margin-top: 1rem; }
@media (max-width: 40rem) {
  .weighings > li { grid-template-columns: 1.7rem 1.9rem 1fr auto; row-gap: .3rem; }
  .weighings .what { grid-column: 3; } .weighings .amount { padding: 0; font-size: 1.6rem; }
  .weighings .taken { grid-column: 3 / -1; text-align: left; }
}
@media print {
  .sheet { font-size: 9.6pt; line-height: 1.28; }
  .sheet .p .blank { min-width: 6rem; height: 1.1em; } .sheet .lead { font-size: 10.5pt; }
  .sheet:has(.weighings) .marks, .sheet:has(.weighings) section:has(.references) { display: none; }
  .weighings > li { grid-template-columns: 8mm 8mm 1fr 30mm 42mm; padding: .22rem 0; break-inside: avoid; }
  .weighings > li::before { font-size: 11pt; }
  .what { font-size: 11.5pt; } .how { font-size: 9pt; } .amount { font-size: 18pt; } .now { margin: .45rem 0 .1rem; }
  .sheet .ticks li { margin: .16rem 0; } .signed th, .signed td { padding-top: .5rem; padding-bottom: .3rem; }
}
"""
