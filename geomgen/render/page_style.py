"""How a page of HTML looks: on a narrow and a wide screen, light and dark, and on paper of either size."""

from __future__ import annotations

STYLE = """\
:root{color-scheme:light dark;--ink:#1d2733;--faint:#556170;--paper:#ffffff;--line:#c9d0d8;--raised:#f4f6f8;
--link:#0b5394;--beware:#8a3b00;--beware-paper:#fdf3e4}
@media screen and (prefers-color-scheme:dark){:root{--ink:#e8ebf0;--faint:#a9b3bf;--paper:#14181d;--line:#3a434e;
--raised:#1c2229;--link:#8cc4ff;--beware:#ffb980;--beware-paper:#2a2016}}
*{box-sizing:border-box}
body{margin:0 auto;max-width:80rem;padding:1rem;background:var(--paper);color:var(--ink);
font:1rem/1.5 system-ui,sans-serif;overflow-wrap:break-word}
h1{font-size:1.7rem;line-height:1.2;margin:.5rem 0}
h2{font-size:1.35rem;margin:2.5rem 0 .5rem;padding-top:.5rem;border-top:2px solid var(--line)}
h3{font-size:1.05rem;margin:1.5rem 0 .5rem;max-width:50rem}
p,li{max-width:50rem}
a{color:var(--link)}
nav ul{list-style:none;display:flex;flex-wrap:wrap;gap:.35rem 1.2rem;margin:.8rem 0;padding:0}
.caution{margin:.6rem 0;padding:.5rem .8rem;border-left:4px solid var(--beware);background:var(--beware-paper)}
.caution strong,.beware strong{color:var(--beware)}
.step>p{margin:.2rem 0}
.step{margin:.7rem 0}
.takes,.faint{color:var(--faint)}
.scroll{overflow-x:auto;max-width:100%}
table{border-collapse:collapse;font-size:.9rem;font-variant-numeric:tabular-nums}
th,td{padding:.25rem .6rem;text-align:left;vertical-align:top;border-bottom:1px solid var(--line)}
td.figure,th.figure{text-align:right;white-space:nowrap}
thead th{background:var(--raised)}
tbody th{font-weight:inherit;min-width:8rem}
tfoot th,tfoot td{border-top:2px solid var(--line);font-weight:600}
td{white-space:nowrap}
td.words{min-width:16rem;white-space:normal}
.figures{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,22rem),1fr));gap:1rem}
figure{margin:1rem 0;min-width:0;break-inside:avoid}
.figures figure{margin:0;padding:.6rem;border:1px solid var(--line);border-radius:.3rem}
.figures .wide{grid-column:1/-1}
figure svg{display:block;max-width:100%;height:auto;max-height:44rem}
figcaption{margin-top:.4rem;font-size:.9rem}
figcaption p,figcaption ul{margin:.2rem 0;padding-left:0}
figcaption li{margin-left:1.1rem}
@media print{
@page{margin:14mm}
:root{color-scheme:light}
body{max-width:none;padding:0;font-size:9.5pt}
a{color:inherit;text-decoration:none}
nav,.screen{display:none}
h1,h2,h3,.caution{break-after:avoid}
h2{margin-top:1.5rem}
p,li{orphans:3;widows:3}
tr,.step,.caution{break-inside:avoid}
tfoot{display:table-row-group}
.scroll{overflow:visible}
table{font-size:7.5pt}
thead,tbody tr:nth-child(-n+2){break-after:avoid}
th,td{padding:.1rem .3rem}
td{white-space:normal}
td.words{min-width:0}
tbody th{min-width:22mm}
.figures{display:block;orphans:1;widows:1}
.figures figure{display:inline-block;width:49%;margin:0 .5% 2mm 0;vertical-align:top;padding:2mm}
.figures .wide{display:block;width:100%}
figure svg{max-height:120mm;margin:0 auto}
.figures figure:not(.wide) svg{max-height:80mm}
figcaption{font-size:8pt}
}
"""
