package markup

// sheet is the style of a page: light and dark, narrow and printed.
const sheet = `
:root{color-scheme:light dark;--ink:#1b2530;--grey:#56616b;--faint:#d3d8dc;--pale:#f0f3f5;--paper:#fff;--water:#146b72;--amber:#85540c;--rust:#a3402a;--fill:#fff9e6}
@media (prefers-color-scheme:dark){:root{--ink:#e6eaed;--grey:#a7b1b9;--faint:#3a454f;--pale:#222b33;--paper:#161c22;--water:#6cc5cb;--amber:#e2ac52;--rust:#f0917a;--fill:#2e2a1b}}
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.5 "Source Sans 3","Segoe UI",Helvetica,Arial,sans-serif;overflow-wrap:anywhere}
main{max-width:62rem;margin:0 auto;padding:1.5rem 1rem 3rem}
body.large main{font-size:1.4em}
h1{font-size:1.8em;line-height:1.2;margin:.2em 0}
h2{font-size:1.35em;color:var(--water);border-bottom:1px solid var(--faint);margin:1.8em 0 .6em}
h3{font-size:1.12em;margin:1.4em 0 .4em}
h4{font-size:1em;margin:1.2em 0 .3em}
p{margin:.5em 0;white-space:pre-line}
a{color:var(--water)}
header{border-bottom:2px solid var(--water);padding-bottom:1em;margin-bottom:1.5em}
header img{max-height:3.5rem;max-width:15rem;background:#fff}
.about{display:grid;grid-template-columns:repeat(auto-fit,minmax(9rem,1fr));gap:.4em 1.2em;margin:1em 0 0}
.about dt{color:var(--grey);font-size:.8em}
.about dd{margin:0}
.subject,.source,figcaption,caption .n,footer{color:var(--grey)}
.source{font-size:.88em}
.lead{font-size:1.1em;font-weight:600}
.warning{border:1px solid var(--rust);border-left-width:6px;padding:.5em .8em}
.advice{border:1px dashed var(--water);padding:.5em .8em}
.good{color:var(--water)}.bad{color:var(--rust)}.open{color:var(--amber)}
.box{overflow-x:auto;margin:1em 0}
.box:focus-visible,a:focus-visible{outline:2px solid var(--water)}
table{border-collapse:collapse;width:100%;font-size:.92em}
table.wide{min-width:40rem}
caption{text-align:left;font-weight:700;padding:.2em 0 .4em}
th,td{text-align:left;vertical-align:top;padding:.35em .6em;border-bottom:1px solid var(--faint);white-space:pre-line;overflow-wrap:break-word}
thead th{background:var(--pale);vertical-align:bottom;border-bottom:1px solid var(--grey)}
tbody th{font-weight:400;color:var(--grey)}
tr.group th{background:var(--pale);font-weight:700;color:var(--ink)}
.unit{display:block;font-weight:400;color:var(--grey)}
.r{text-align:right;font-variant-numeric:tabular-nums}
td.fill{background:var(--fill);border-bottom:1px solid var(--grey);min-width:6em;height:2em}
ul.boxes{list-style:none;padding-left:.5em}
li{white-space:pre-line}
.c{display:flex;gap:.8em;margin:.35em 0}
.c>span:first-child{flex:none;min-width:2em}
.c2{margin-left:1em}.c3{margin-left:2.6em}.c4{margin-left:4.2em}
.choice{font-weight:700;color:var(--water)}
pre{overflow-x:auto;background:var(--pale);padding:.8em;font:.82em/1.45 ui-monospace,"DejaVu Sans Mono",Consolas,monospace;overflow-wrap:normal}
figure{margin:1.2em 0}
figure svg{max-width:100%;height:auto;display:block}
figure.code svg{width:10rem;background:#fff}
.space{border:1px solid var(--grey);padding:.4em .6em;margin:1em 0;color:var(--grey)}
nav ol{list-style:none;padding-left:0}
nav li.l2{padding-left:1.4em}
footer{border-top:1px solid var(--faint);margin-top:3em;padding-top:.6em;font-size:.85em}
@media print{:root{color-scheme:light;--ink:#1b2530;--grey:#56616b;--faint:#d3d8dc;--pale:#f0f3f5;--paper:#fff;--water:#146b72;--amber:#85540c;--rust:#a3402a;--fill:#fff}
body{font-size:9.5pt}main{max-width:none;padding:0}thead{display:table-header-group}tr,figure,.space,.warning{break-inside:avoid}h2,h3,h4,caption{break-after:avoid}.box{overflow:visible}table.wide{min-width:0}.break{break-before:page}}
`
