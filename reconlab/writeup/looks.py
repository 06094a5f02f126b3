"""How does a page look? One style for the screen, the phone, the dark and the printer; nothing is loaded."""

ARTICLE = """
:root { color-scheme: light dark; --paper: #fdfcf9; --ink: #211f1b; --soft: #5d574d; --line: #cfc8ba;
  --faint: #f3efe6;
  --link: #2b4a7d;
    --serif: Charter, "Bitstream Charter", "Iowan Old Style", Cambria, Georgia, "Noto Serif", serif; }
@media (prefers-color-scheme: dark) { :root { --paper: #191815; --ink: #e8e3d8; --soft: #aca496; --line: #4a463e;
  --faint: #24221d; --link: #a9c4ee; } }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 1.0625rem/1.58 var(--serif);
  font-variant-numeric: lining-nums; overflow-wrap: break-word; }
a { color: var(--link); text-decoration-thickness: .06em; text-underline-offset: .16em; }
:focus-visible { outline: 2px solid var(--link); outline-offset: 2px; }
.skip { position: absolute; left: -999rem; }
.skip:focus { left: 1rem; top: 1rem; background: var(--paper); padding: .5rem; z-index: 9; }
.page { max-width: 46rem; margin: 0 auto; padding: 3.5rem 1.25rem 4rem; }
h1, h2, h3 { line-height: 1.22; font-weight: 600; text-wrap: balance; hyphens: manual; }
h1 { font-size: 2.3rem; letter-spacing: -.01em; margin: 0 0 1rem; }
h2 { font-size: 1.42rem; margin: 3.2rem 0 .8rem; } h3 { font-size: 1.12rem; margin: 2.1rem 0 .5rem; }
h4 { font-size: 1.02rem; font-weight: 400; font-style: italic; margin: 1.3rem 0 .3rem; }
p, .p { margin: 0 0 .9rem; position: relative; }
ul, ol { padding-left: 1.35rem; margin: 0 0 1rem; }
li { margin: .3rem 0; position: relative; }
header .lead { font-size: 1.2rem; line-height: 1.5; color: var(--soft); font-style: italic; }
.label { display: inline-block; border: 1px solid var(--ink); padding: .1rem .6rem; font-size: .95rem;
  letter-spacing: .04em; }
.care, .stop { border-left: 3px solid var(--ink); padding: .1rem 0 .1rem .9rem; }
.stop { border-left-width: 7px; font-weight: 600; }
nav { border-top: 1px solid var(--line); border-bottom: 1px solid var(--line); margin: 2rem 0 0;
  padding: .9rem 0; font-size: .98rem; }
nav ol { columns: 2; column-gap: 2rem; margin: 0; list-style: none; padding: 0; }
nav li { break-inside: avoid; margin: 0; padding: .15rem 0; }
nav a { text-decoration: none; } nav a:hover { text-decoration: underline; }
pre { font: inherit; white-space: pre-wrap; margin: 0; padding: 1.1rem 1.3rem; background: var(--faint);
  border-left: 1px solid var(--line); border-right: 1px solid var(--line); }
figure { margin: 1.4rem 0 1.8rem; }
figcaption { font-size: .97rem; color: var(--soft); margin-top: .5rem; position: relative; }
.drawing svg { display: block; width: 100%; max-width: 28rem; height: auto; }
.drawing figcaption strong { color: var(--ink); }
.wrap { position: relative; margin: 1.1rem 0 1.8rem; }
table { border-collapse: collapse; width: 100%; font-size: .97rem; line-height: 1.42;
  border-top: 1.5px solid var(--ink); border-bottom: 1.5px solid var(--ink); }
caption { text-align: left; font-style: italic; color: var(--soft); padding: 0 0 .45rem; }
th, td { text-align: left; vertical-align: top; padding: .42rem .9rem .42rem 0; font-weight: 400; }
th:last-child, td:last-child { padding-right: 0; }
thead th { border-bottom: 1px solid var(--ink); font-style: italic; vertical-align: bottom; }
tbody tr + tr > * { border-top: 1px solid var(--line); } tbody th { font-weight: 600; }
.figures td { font-variant-numeric: lining-nums tabular-nums; }
.figures td > .why:only-child > summary, .figures td > .keep:only-child summary { white-space: nowrap; }
.dates td { white-space: nowrap; }
.marks { font-size: .84em; color: var(--soft); white-space: normal; } .marks a { text-decoration: none; }
td.marks { min-width: 4.2rem; line-height: 1.64; }
.why { display: inline-block; white-space: normal; } .keep { white-space: nowrap; }
.why > summary { display: inline; list-style: none; cursor: pointer; border-bottom: 1px dotted var(--soft); }
.why > summary::-webkit-details-marker { display: none; }
.why > summary:hover, .why[open] > summary { border-bottom: 1px solid var(--link); color: var(--link); }
.note { position: absolute; left: 0; right: 0; z-index: 2; margin: .35rem 0 0; padding: .7rem 1rem;
  background: var(--paper); border: 1px solid var(--ink);
  box-shadow: 0 .4rem 1.4rem rgb(0 0 0 / .22); font-size: .94rem; line-height: 1.45; font-weight: 400;
    font-style: normal; color: var(--ink); text-align: left; white-space: normal; }
.chain { list-style: none; margin: 0; padding: 0; }
.chain .chain { padding-left: .9rem; margin-left: .1rem; border-left: 1px solid var(--line); }
.chain li { margin: .22rem 0; }
.references { padding-left: 2.3rem; font-size: .97rem; }
.references li { padding-left: .2rem; }
.references li:target { background: var(--faint); outline: .4rem solid var(--faint); }
.ticks { list-style: none; padding-left: 0; }
.ticks li { padding-left: 1.9rem; }
.ticks .box { position: absolute; left: 0; top: .2em; }
.box { display: inline-block; width: 1.05em; height: 1.05em; border: 1.5px solid currentColor;
  vertical-align: -.15em; }
.blank { display: inline-block; min-width: 8rem; border-bottom: 1px solid currentColor; height: 1.5em;
  vertical-align: bottom; }
td .blank { min-width: 5.5rem; width: 100%; }
.printed-notes { display: none; }
footer { margin-top: 3.5rem; padding-top: 1rem; border-top: 1px solid var(--line); color: var(--soft);
  font-size: .95rem; }
@media (max-width: 40rem) {
  .page { padding: 2rem 1rem 3rem; }
  h1 { font-size: 1.8rem; }
  nav ol { columns: 1; }
  nav li { padding: .5rem 0; }
  h2 { margin-top: 2.5rem; }
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
  @page { size: A4; margin: 19mm 17mm 20mm; @bottom-center { content: counter(page); font: 9pt Georgia, serif; } }
  :root { color-scheme: light; --paper: #fff; --ink: #000; --soft: #333; --line: #999; --faint: #fff;
    --link: #000; }
  body { font-size: 10.2pt; line-height: 1.42; }
  .page { max-width: none; padding: 0; }
  h1 { font-size: 21pt; }
  h2 { font-size: 14pt; margin-top: 1.5rem; }
  h3 { font-size: 11.5pt; margin-top: 1.1rem; }
  .skip, nav, .note { display: none !important; }
  .why > summary { border: 0; }
  a { color: inherit; text-decoration: none; }
  h2, h3, caption { break-after: avoid; }
  tr, li, figure, pre { break-inside: avoid; }
  thead { display: table-header-group; }
  pre { border: 1px solid var(--line); }
  .drawing svg { max-width: 118mm; } table { font-size: 9.2pt; } .care, .stop { break-inside: avoid; }
  .printed-notes { display: block; }
  .printed-notes .all { columns: 2; column-gap: 7mm; font-size: 7.9pt; line-height: 1.32; }
  .printed-notes .all > li { break-inside: auto; margin-bottom: .5rem; }
  footer { margin-top: 1rem; padding-top: .4rem; font-size: 8.5pt; }
  .printed-notes li { break-inside: auto; } .references { font-size: 8.8pt; }
}
"""

SHEET = """
.sheet .page { max-width: 52rem; } .sheet .lead { font-style: normal; color: var(--ink); }
.sheet h2 { border-bottom: 1px solid var(--line); padding-bottom: .2rem; margin-top: 2.2rem; }
.bench td:nth-child(2) { font-size: 1.75rem; line-height: 1.15; font-weight: 600; white-space: nowrap; }
.stack.bench td:nth-child(2)::before { font-size: 1rem; font-weight: 400; }
.bench td:nth-child(2) .note { font-size: .94rem; }
.bench tbody th { font-size: 1.15rem; }
.bench td, .bench th { padding-top: .6rem; padding-bottom: .6rem; vertical-align: middle; }
.signed { margin-top: 2.5rem; }
@media print { .sheet .wrap { break-inside: avoid; } .sheet .page { max-width: none;
  } .sheet body, body.sheet { font-size: 11pt; } .sheet h2 { margin-top: 1rem; } .bench { font-size: 11pt; }
  .bench td:nth-child(2) { font-size: 20pt; } .sheet .references { font-size: 8pt; } }
"""
