"""The style of all pages: large dark text on white, boxes ruled in black, nothing by hue alone."""

from __future__ import annotations

INK, PAPER = "#111111", "#FFFFFF"
QUIET = "#3F3F3F"  # smaller print
LINK = "#0B3D91"
SHADE = "#F1EFE8"  # behind a reading
ALARM_INK, ALARM = "#5A0F00", "#FFE9D6"  # a tag out of date


def _rem(pixels: float) -> str:
    """A size that grows with the letters of the reader's choice; theirs are 18 pixels if none."""
    return f"{pixels / 18:.4g}rem"


STYLE = f"""
*{{box-sizing:border-box}}
html{{-webkit-text-size-adjust:100%;background:{PAPER};color:{INK};\
font:112.5%/1.4 Arial,Helvetica,"Liberation Sans","DejaVu Sans",sans-serif}}
body{{margin:0 auto;max-width:828px;padding:0 14px 40px;overflow-wrap:anywhere}}
p,ul,dl,h1,h2,h3,h4{{margin:0}}
h1{{font-size:{_rem(44)};line-height:1.05;font-weight:800}}
h2{{font-size:{_rem(24)};line-height:1.2;margin:34px 0 10px;padding-bottom:4px;\
border-bottom:5px solid {INK}}}
h3{{font-size:{_rem(20)};margin:18px 0 6px}}
a{{color:{LINK};text-underline-offset:3px}}
a:focus-visible,input:focus-visible{{outline:4px solid {INK};outline-offset:2px}}
.skip{{position:absolute;left:-999px;background:{PAPER};padding:12px}}
.skip:focus{{left:14px}}
.go{{display:flex;align-items:center;min-height:52px;padding:8px 14px;border:2px solid {INK};\
border-radius:10px;font-weight:700;text-decoration:none;background:{PAPER};gap:10px}}
.go:after{{content:"\\203A";margin-left:auto;font-size:{_rem(28)};line-height:1}}
.bar{{display:flex;flex-wrap:wrap;gap:10px;padding:10px 0 16px}}
.bar .go{{flex:1 0 auto;justify-content:center}}
.bar .go:after{{content:none}}
.list{{list-style:none;padding:0;display:grid;gap:10px}}
.go small{{display:block;font-weight:400}}
.jump{{display:grid;\
grid-template-columns:repeat(auto-fill,minmax(min(100%,{_rem(84)}),1fr));gap:10px}}
small,.small{{font-size:{_rem(16)};color:{QUIET}}}
.where{{font-size:{_rem(20)};margin-top:6px}}
.stamp{{display:inline-block;margin-top:10px;padding:5px 10px;border:3px solid {INK};\
font-weight:700}}
.stamp+p,.stamp+div,.stamp+a{{margin-top:10px}}
p.small{{margin-top:8px}}
.alarm{{background:{ALARM};color:{ALARM_INK};border:3px solid {ALARM_INK};border-radius:10px;\
padding:10px 12px;margin-top:12px;font-weight:700}}
.alarm .go{{margin-top:8px;background:{PAPER}}}
.valve{{border:3px solid {INK};border-radius:12px;padding:12px;margin:14px 0}}
.name{{margin:0 0 4px;padding:0;border:0;font-size:{_rem(38)};line-height:1.1;font-weight:800}}
.name span{{display:block;font-size:{_rem(20)};font-weight:700;line-height:1.25}}
.must{{font-weight:800;border:3px solid {INK};padding:5px 10px;margin:8px 0}}
dt{{font-size:{_rem(16)};color:{QUIET};margin-top:10px}}
dd{{margin:0;font-weight:700}}
.wire{{display:grid;grid-template-columns:104px 1fr;gap:2px 12px;align-items:center;\
margin:2px 0}}
.wire svg{{width:104px;height:34px;grid-row:span 2}}
.wire b{{font-size:{_rem(22)};line-height:1.15}}
.wire i{{font-style:normal;font-weight:400;font-size:{_rem(16)}}}
.wire.s{{grid-template-columns:56px 1fr}}
.wire.s svg{{width:56px;height:22px}}
.wire.s b{{font-size:{_rem(18)}}}
.iec{{display:inline-block;border:2px solid {INK};padding:0 5px;margin-left:7px;\
font-size:{_rem(17)};font-family:"DejaVu Sans Mono","Courier New",monospace}}
.reads{{display:grid;\
grid-template-columns:repeat(auto-fill,minmax(min(100%,{_rem(150)}),1fr));gap:8px;margin-top:8px}}
.reads div{{background:{SHADE};border:2px solid {INK};padding:6px 9px}}
.reads dt{{margin:0;line-height:1.2;color:{INK}}}
.reads dd{{font-size:{_rem(24)};font-weight:800;line-height:1.2;white-space:nowrap}}
.reads dd small{{display:block;font-size:{_rem(17)};font-weight:700;color:{INK}}}
.reads dd.none{{font-size:{_rem(20)};white-space:normal}}
h4{{font-size:{_rem(18)};margin:14px 0 4px}}
.sign{{display:inline-block;min-width:28px;text-align:center;border:3px solid {INK};\
border-radius:6px;margin:2px 8px 2px 0}}
.valve .go{{margin-top:12px}}
.item{{border-bottom:1px solid {INK};padding:8px 0}}
.item:last-child{{border-bottom:0}}
.item h3{{margin:8px 0}}
.item .go,.item+p,.item+.go,.said{{margin-top:10px}}
.row{{display:grid;grid-template-columns:minmax(0,2fr) minmax(0,3fr);gap:6px 8px;\
margin-top:8px;align-items:center}}
.row dt{{margin:0}}
.plain{{padding-left:22px}}
.plain li{{margin:5px 0}}
.sheet{{overflow-x:auto;border:2px solid {INK};margin:10px 0}}
.sheet svg{{display:block;width:936px;height:auto}}
.text{{white-space:pre-wrap;font-size:{_rem(16)};padding-left:0;list-style:none}}
.field{{display:block;width:100%;min-height:60px;font:inherit;\
font-size:{_rem(22)};padding:8px 12px;border:3px solid {INK};border-radius:10px;margin:8px 0}}
.copy{{font-size:{_rem(22)};user-select:all}}
.defs{{position:absolute;width:0;height:0}}
[hidden]{{display:none!important}}
footer{{margin-top:36px;border-top:5px solid {INK};padding-top:10px}}
@page{{margin:12mm}}
@media print{{
html{{font-size:18px}}
body{{max-width:none;padding:0;zoom:.64}}
main{{columns:2;column-gap:40px}}
h2{{margin-top:20px}}
.bar,.jump,.skip,.field,.alarm .go,.valve .go,.screen{{display:none}}
h2,h3{{break-after:avoid}}
.valve,.item,.reads,.wire{{break-inside:avoid}}
.sheet{{overflow:visible;border:0;break-inside:avoid;column-span:all}}
.sheet svg{{width:100%}}
*{{-webkit-print-color-adjust:exact;print-color-adjust:exact}}
}}
""".strip()
