"""Drawings that are taken, and drawings that would run, fetch, hide or overwhelm something.

`OUTSIDE` is an address that nobody answers; the browser test wants it never asked for.
"""

from collections.abc import Mapping

OUTSIDE = "http://127.0.0.1:9"
# A PNG picture of one red pixel.
POINT = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4z8AAAAMBAQDJ/pLvAAAAAElFTkSuQmCC"
SVG = 'xmlns="http://www.w3.org/2000/svg"'
XLINK = 'xmlns:xlink="http://www.w3.org/1999/xlink"'
RAN = "top.ran=true"


def drawing(inner: str, more: str = "") -> str:
    """Return a drawing of 40 by 40 whose second line begins what it holds."""
    return f'<svg {SVG} {XLINK} viewBox="0 0 40 40"{more}>\n{inner}\n</svg>\n'


def column(text: str, identity: str) -> int:
    """Return the column of an element of a drawing's second line."""
    line = text.split("\n")[1]
    return line.rindex("<", 0, line.index(f'id="{identity}"')) + 1


def _chain() -> str:
    return drawing("".join(f'<use id="u{n}" href="#u{n - 1}"/>' for n in range(1, 300)))


def _bomb() -> str:
    each = "".join(
        f'<g id="g{level}">' + f'<use href="#g{level - 1}"/>' * 10 + "</g>\n" for level in range(1, 10)
    )
    return drawing(f'<g id="g0"><path d="M0 0h9"/></g>\n{each}')


def _patterns() -> str:
    each = "".join(
        f'<pattern id="p{level}" width="1" height="1">'
        + f'<rect width="1" height="1" class="c{level - 1}"/>' * 10
        + "</pattern>"
        for level in range(1, 8)
    )
    said = "".join(f".c{level}{{fill:url(#p{level})}}" for level in range(1, 8))
    return drawing(f"<style>{said}</style>{each}<rect width='40' height='40' class='c7'/>")


# What it is → the drawing, and where and why it is refused.
HOSTILE: Mapping[str, tuple[str | bytes, str]] = {
    # What runs.
    "script": (
        drawing(f"<script>{RAN}</script>"),
        ":2:1: wanted an element that only draws; found <script>",
    ),
    "script with an address": (
        drawing(f'<script href="{OUTSIDE}/a.js"/>'),
        ":2:1: wanted an element that only draws; found <script>",
    ),
    "script under another prefix": (
        drawing(f'<s:script xmlns:s="http://www.w3.org/2000/svg">{RAN}</s:script>'),
        ":2:1: wanted an element that only draws; found <script>",
    ),
    "script of another language": (
        drawing(f'<h:script xmlns:h="http://www.w3.org/1999/xhtml">{RAN}</h:script>'),
        ":2:1: wanted an element that only draws; found <script>",
    ),
    "script whose namespace is written with signs": (
        drawing(f'<h:script xmlns:h="http://www.w3.org/1999/&#120;html">{RAN}</h:script>'),
        ":2:1: wanted an element that only draws; found <script>",
    ),
    "script inside metadata": (
        drawing(f"<metadata>\n <script>{RAN}</script></metadata>"),
        ":3:2: wanted nothing that draws or runs in <metadata>; found <script>",
    ),
    "script inside an element of a program's own": (
        drawing(f'<own:layer xmlns:own="urn:example:own"><script>{RAN}</script></own:layer>'),
        ":2:40: wanted nothing that draws or runs in <layer>; found <script>",
    ),
    "script with a text in sections": (
        drawing(f"<script><![CDATA[{RAN}]]></script>"),
        ":2:1: wanted an element that only draws; found <script>",
    ),
    "script inside a style": (
        drawing(f"<style>a{{fill:red}}<script>{RAN}</script></style>"),
        ":2:19: wanted an element that only draws; found <script> in <style>",
    ),
    "handler of loading": (
        drawing("", f' onload="{RAN}"'),
        ":1:104: wanted an attribute that only draws; found onload",
    ),
    "handler in another line, in capitals": (
        drawing(f"<g\n  ONCLICK = '{RAN}'/>"),
        ":3:3: wanted an attribute that only draws; found ONCLICK",
    ),
    "handler after a harmless attribute": (
        drawing(f'<g xmlns:z="urn:z" id="a" onbegin="{RAN}"/>'),
        ":2:27: wanted an attribute that only draws; found onbegin",
    ),
    "link that runs": (
        drawing(f'<a href="javascript:{RAN}"><path d="M0 0h40v40z"/></a>'),
        ":2:1: wanted an element that only draws; found <a>",
    ),
    "link that runs, with blanks in it": (
        drawing(f'<a xlink:href=" java&#10;script:{RAN}"><path d="M0 0h40v40z"/></a>'),
        ":2:1: wanted an element that only draws; found <a>",
    ),
    "movement of a link": (
        drawing(f'<g><animate attributeName="href" values="javascript:{RAN}"/></g>'),
        ":2:4: wanted an element that only draws; found <animate>",
    ),
    "setting of a link": (
        drawing(f'<use href="#a"><set attributeName="href" to="{OUTSIDE}/a.svg#b"/></use>'),
        ":2:16: wanted an element that only draws; found <set>",
    ),
    "page in a drawing": (
        drawing(
            f'<foreignObject width="9" height="9"><body xmlns="http://www.w3.org/1999/xhtml" '
            f'onload="{RAN}"/></foreignObject>'
        ),
        ":2:1: wanted an element that only draws; found <foreignObject>",
    ),
    "frame in a drawing": (
        drawing(f'<iframe xmlns="http://www.w3.org/1999/xhtml" src="{OUTSIDE}/"/>'),
        ":2:1: wanted an element that only draws; found <iframe>",
    ),
    "handler as an element": (
        drawing(f'<handler type="text/ecmascript">{RAN}</handler>'),
        ":2:1: wanted an element that only draws; found <handler>",
    ),
    # What asks for something outside.
    "picture from elsewhere": (
        drawing(f'<image href="{OUTSIDE}/a.png" width="9" height="9"/>'),
        ":2:8: wanted an embedded picture, data:image/png;base64,… or data:image/jpeg;base64,…; found "
        f"{OUTSIDE}/a.png",
    ),
    "picture beside the drawing": (
        drawing("<image width='9' xlink:href='a.png'/>"),
        ":2:18: wanted an embedded picture, data:image/png;base64,… or data:image/jpeg;base64,…; found a.png",
    ),
    "drawing embedded in a drawing": (
        drawing('<image href="data:image/svg+xml;base64,PHN2Zz4="/>'),
        ":2:8: wanted an embedded picture, data:image/png;base64,… or data:image/jpeg;base64,…; found "
        "data:image/svg+xml;base64,PHN2Zz4=",
    ),
    "embedded picture that is something else": (
        drawing('<image href="data:image/png;base64,PHN2Zz4="/>'),
        ":2:8: wanted a PNG picture as it says; found something else",
    ),
    "embedded picture that breaks off": (
        drawing('<image href="data:image/png;base64,iVBORw0KGgo="/>'),
        ":2:8: wanted a whole PNG picture; found one that breaks off",
    ),
    "use of another file": (
        drawing('<use href="other.svg#a"/>'),
        ":2:6: wanted a reference inside the drawing, such as #shape; found other.svg#a",
    ),
    "colours of another file": (
        drawing(f'<linearGradient xlink:href="{OUTSIDE}/a.svg#b"/>'),
        f":2:17: wanted a reference inside the drawing, such as #shape; found {OUTSIDE}/a.svg#b",
    ),
    "letters along a path of another file": (
        drawing('<text><textPath href=" a.svg#b"/></text>'),
        ":2:17: wanted a reference inside the drawing, such as #shape; found  a.svg#b",
    ),
    "text of another file": (
        drawing(f'<text><tref xlink:href="{OUTSIDE}/a.svg#b"/></text>'),
        ":2:7: wanted an element that only draws; found <tref>",
    ),
    "reference that acts of itself": (
        drawing('<use xlink:href="#a" xlink:actuate="onLoad"/>'),
        ":2:22: wanted an attribute that only draws; found actuate",
    ),
    "use of an embedded file": (
        drawing('<use href="data:image/svg+xml,%3Csvg/%3E#a"/>'),
        ":2:6: wanted a reference inside the drawing, such as #shape; found data:image/svg+xml,%3Csvg/%3E#a",
    ),
    "reference on a path": (
        drawing('<path d="M0 0" href="#a"/>'),
        ":2:16: wanted an attribute that only draws; found href",
    ),
    "base of references": (
        drawing(f'<g xml:base="{OUTSIDE}/"><use href="#a"/></g>'),
        ":2:4: wanted an attribute that only draws; found base",
    ),
    "colour from elsewhere": (
        drawing(f'<rect width="9" height="9" fill="url({OUTSIDE}/a.svg#a)"/>'),
        f":2:28: wanted a style without anything from outside the drawing; found ({OUTSIDE}/a.svg#a)",
    ),
    "colour from elsewhere, in quotes": (
        drawing("<rect fill=\"URL( 'a.svg#a' )\"/>"),
        ":2:7: wanted a style without anything from outside the drawing; found ( 'a.svg#a' )",
    ),
    "mask from elsewhere in a style": (
        drawing(f'<rect style="fill:red;mask:url({OUTSIDE}/a)"/>'),
        f":2:7: wanted a style without anything from outside the drawing; found ({OUTSIDE}/a)",
    ),
    "style with an address in escapes": (
        drawing(f'<rect style="fill:\\75rl({OUTSIDE}/a)"/>'),
        f":2:7: wanted a style without anything from outside the drawing; found \\75rl({OUTSIDE}/a)",
    ),
    "style with an address in a set of pictures": (
        drawing(f"<rect style=\"cursor:image-set('{OUTSIDE}/a' 1x)\"/>"),
        f":2:7: wanted a style without anything from outside the drawing; found ('{OUTSIDE}/a' 1x)",
    ),
    "import of a style": (
        drawing(f"<style>@import '{OUTSIDE}/a.css';</style>"),
        f":2:1: wanted a style without anything from outside the drawing; found @import '{OUTSIDE}/a.css';",
    ),
    "import of a style in a section after a comment": (
        drawing(f"<style><![CDATA[/* a */@import url({OUTSIDE}/a);]]></style>"),
        f":2:1: wanted a style without anything from outside the drawing; found @import url({OUTSIDE}/a);",
    ),
    "letters from elsewhere": (
        drawing(f"<style>@font-face{{font-family:a;src:url({OUTSIDE}/a)}}</style>"),
        ":2:1: wanted a style without anything from outside the drawing; found "
        "@font-face{font-family:a;src:url(http://…",
    ),
    "background in a style": (
        drawing(f"<style>svg{{background:url({OUTSIDE}/a)}}</style>"),
        f":2:1: wanted a style without anything from outside the drawing; found ({OUTSIDE}/a)}}",
    ),
    "address between strings that look like a comment": (
        drawing(f"<style>text{{font-family:'/*';fill:url({OUTSIDE}/a);stroke:'*/'}}</style>"),
        f":2:1: wanted a style without anything from outside the drawing; found ({OUTSIDE}/a);stroke:'*/'}}",
    ),
    "style that computes": (
        drawing("<rect style='width:expression(alert(1))'/>"),
        ":2:7: wanted a style without anything from outside the drawing; found (alert(1))",
    ),
    "style that binds": (
        drawing(f"<rect style='-own-binding:url({OUTSIDE}/a.xml#x)'/>"),
        f":2:7: wanted a style without anything from outside the drawing; found ({OUTSIDE}/a.xml#x)",
    ),
    "style that behaves": (
        drawing("<rect style='behavior:a'/>"),
        ":2:7: wanted a property of style that only draws; found behavior",
    ),
    "style that moves": (
        drawing("<style>path{animation:a 1s}</style>"),
        ":2:1: wanted a property of style that only draws; found animation",
    ),
    "filter with a picture from elsewhere": (
        drawing(f'<filter id="f"><feImage href="{OUTSIDE}/a.png"/></filter>'),
        ":2:16: wanted an element that only draws; found <feImage>",
    ),
    "style sheet of the file": (
        f'<?xml-stylesheet href="{OUTSIDE}/a.css"?>\n' + drawing(""),
        ":1:1: wanted a drawing without instructions to other programs; found <?xml-stylesheet",
    ),
    # What makes a text something else than it looks.
    "entity": (
        f'<!DOCTYPE svg [<!ENTITY a "<script>{RAN}</script>">]>\n' + drawing("&a;"),
        ":1:1: wanted a drawing without a document type; found <!DOCTYPE",
    ),
    "laughs without end": (
        '<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">'
        '<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]>' + drawing("<title>&c;</title>"),
        ":1:1: wanted a drawing without a document type; found <!DOCTYPE",
    ),
    "entity from a file": (
        '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>' + drawing("<title>&a;</title>"),
        ":1:1: wanted a drawing without a document type; found <!DOCTYPE",
    ),
    "document type from elsewhere": (
        f'<!DOCTYPE svg SYSTEM "{OUTSIDE}/a.dtd">\n' + drawing(""),
        ":1:1: wanted a drawing without a document type; found <!DOCTYPE",
    ),
    "document type that gives attributes": (
        f'<!DOCTYPE svg [<!ATTLIST svg onload CDATA #FIXED "{RAN}">]>' + drawing(""),
        ":1:1: wanted a drawing without a document type; found <!DOCTYPE",
    ),
    "usual document type with an entity": (
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/a.dtd" [<!ENTITY a "b">]>'
        + drawing("&a;"),
        ":1:1: wanted a drawing without a document type; found <!DOCTYPE",
    ),
    "usual document type and an entity it does not have": (
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/a.dtd">\n'
        + drawing('<use href="&nothing;#a"/>'),
        ":3:1: wanted an SVG drawing in well-formed XML; found an error: undefined entity",
    ),
    "usual document type twice": (
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/a.dtd">\n'
        "<!DOCTYPE svg>" + drawing(""),
        ":2:1: wanted a drawing without a document type; found <!DOCTYPE",
    ),
    "UTF-16": (
        drawing(f"<script>{RAN}</script>").encode("utf-16"),
        ": wanted a text in UTF-8; found UTF-16",
    ),
    "UTF-16 without a mark": (
        drawing(f"<script>{RAN}</script>").encode("utf-16-le"),
        ":1:2: wanted a text of printable characters; found \\x00",
    ),
    "UTF-7": (
        b'<?xml version="1.0" encoding="UTF-7"?>\n'
        + drawing("+ADw-script+AD4-top.ran=true+ADw-/script+AD4-").encode(),
        ":1:1: wanted a drawing in UTF-8; found UTF-7 declared",
    ),
    "another encoding": (
        b'<?xml version="1.0" encoding="ISO-2022-JP"?>\n' + drawing("").encode(),
        ":1:1: wanted a drawing in UTF-8; found ISO-2022-JP declared",
    ),
    "compressed": (
        bytes.fromhex("1f8b0800000000000203"),
        ": wanted a text in UTF-8; found a compressed file",
    ),
    "page that looks like a drawing": (
        f"<html><script>{RAN}</script>{drawing('')}</html>",
        ':1:1: wanted an SVG drawing, <svg xmlns="http://www.w3.org/2000/svg">; '
        "found <html> without a namespace",
    ),
    "drawing without its namespace": (
        f"<svg><script>{RAN}</script></svg>",
        ':1:1: wanted an SVG drawing, <svg xmlns="http://www.w3.org/2000/svg">; '
        "found <svg> without a namespace",
    ),
    "drawing of another namespace": (
        '<svg xmlns="http://www.w3.org/1999/xhtml"/>',
        ':1:1: wanted an SVG drawing, <svg xmlns="http://www.w3.org/2000/svg">; found <svg>',
    ),
    "element without a namespace": (
        drawing('<script xmlns="">1</script>'),
        ":2:1: wanted an element that only draws; found <script>",
    ),
    "text that is not well formed": (
        f"<svg {SVG}>\n<path></svg>",
        ":2:9: wanted an SVG drawing in well-formed XML; found an error: mismatched tag",
    ),
    "more after the drawing": (
        drawing("") + "<script/>",
        ":4:1: wanted an SVG drawing in well-formed XML; found an error: junk after document element",
    ),
    # What overwhelms.
    "use of uses": (
        _bomb(),
        ":7:1: wanted at most 200000 elements drawn, each as often as it is used; found more",
    ),
    "pattern of patterns": (
        _patterns(),
        f":2:{column(_patterns(), 'p6')}: wanted at most 200000 elements drawn, "
        "each as often as it is used; found more",
    ),
    "use of itself": (
        drawing('<g id="a"><use href="#a"/></g>'),
        ":2:1: wanted elements that do not draw themselves; found one that does",
    ),
    "pattern of itself by a rule": (
        drawing(
            "<style>g .a{fill:url(#p)}</style>"
            '<pattern id="p" width="1" height="1"><rect class="b a" width="1" height="1"/></pattern>'
        ),
        ":2:34: wanted elements that do not draw themselves; found one that does",
    ),
    "nested beyond any sense": (
        drawing("<g>" * 100_000),
        ":2:298: wanted elements at most 100 deep in each other; found deeper ones",
    ),
    "more elements than a picture has": (
        drawing("<g/>" * 50_000),
        ":2:199997: wanted at most 50000 elements; found more",
    ),
    "blanks without end": (
        " " * 4_999_900 + "<!-- " + "<svg/>",
        ":1:4999901: wanted an SVG drawing in well-formed XML; found an error: unclosed token",
    ),
    "style of blanks and signs without end": (
        drawing("<style>" + " " * 900_000 + "/*" * 900_000 + "</style>"),
        ":2:1: wanted a style without anything from outside the drawing; found "
        "*/*/*/*/*/*/*/*/*/*/*/*/*/*/*/*/*/*/*/*/…",  # what follows the comment /*/*/
    ),
    "chain of uses": (
        _chain(),
        f":2:{column(_chain(), 'u201')}: wanted at most 200 levels of references; found more",
    ),
    "too many bytes": (
        drawing("<!--" + "a" * 5_000_000 + "-->"),
        ": wanted at most 5 MB; found 5.0 MB",
    ),
}

# What it is → the drawing.
GOOD: Mapping[str, str] = {
    "colours by name inside the file": drawing(
        '<linearGradient id="h"><stop offset="0" stop-color="#0f0"/><stop offset="1"/></linearGradient>'
        '<linearGradient id="g" xlink:href="#h"/><path d="M0 0h40v40z" fill="url(#g)"/>'
    ),
    "style with a reference in quotes": drawing(
        "<linearGradient id='g'/><rect width='40' height='40' style=\"fill: url( '#g' ) none; opacity: .5\"/>"
    ),
    "embedded picture": drawing(
        f'<image width="40" height="40" href="data:image/png;base64,{POINT[:40]}\n{POINT[40:]}"/>'
    ),
    "comment and title": drawing("<!-- made by hand --><title>One logo</title><path d='M0 0h40v40z'/>"),
    "rules of style in a section": drawing(
        "<style type='text/css'><![CDATA[\n/* two */\n.st0, g > path.st1 {fill:#FFF;stroke:rgb(1, 2, 3)}\n"
        "\t.st2{clip-path:url(#c);font-family:'Arimo-Bold';enable-background:new    ;}\n]]></style>"
        "<clipPath id='c'><circle r='9' cx='9' cy='9'/></clipPath>"
        "<rect class='st0 st2' width='40' height='40'/>"
    ),
    "signs of every plane": drawing(
        "<text x='2' y='9' font-family='Größe, Ωmega'>Größe 漢 𝄞 &lt;b&gt; &amp;</text>"
    ),
    "usual document type and declaration": (
        '<?xml version="1.0" encoding="utf-8" standalone="no"?>\n<!-- a -->\n'
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN"\n'
        ' "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">\n' + drawing("<path d='M0 0h40v40z'/>")
    ),
    "notes of a drawing program": (
        f'<svg {SVG} {XLINK} xmlns:own="http://example.org/own" xmlns:svg="http://www.w3.org/2000/svg"\n'
        ' xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#" xmlns:dc="http://purl.org/dc/elements/1.1/"\n'
        ' own:docname="secret.svg" own:export-filename="/a/secret.png" version="1.1" viewBox="0 0 40 40">\n'
        '<own:view id="base" pagecolor="#ffffff" own:zoom="0.3"><own:grid type="xygrid"/></own:view>\n'
        "<metadata><rdf:RDF><own:Work rdf:about=''><dc:creator>secret</dc:creator></own:Work></rdf:RDF>"
        "</metadata>\n"
        "<defs><own:effect effect='secret'/><svg:marker id='m'><svg:path d='M0 0h1'/></svg:marker>\n"
        "<filter id='f'><feGaussianBlur in='SourceGraphic' stdDeviation='2'/></filter></defs>\n"
        "<g own:label='secret' transform='matrix(1,0,0,-1,2.5e-3,.4) translate(2 3)' data-name='Layer 1'>\n"
        "<path own:connector-curvature='0' d='m 1,2 c 3,4 5,-6 .7,8e1 z' xlink:type='simple'\n"
        " style=\"fill:none;-own-font-specification:'secret, Normal';stroke:#000;marker-end:url(#m);"
        'stroke-dasharray:1, 2.5;filter:url(#f);font-size:12px!important"/></g></svg>\n'
    ),
    "uses that are few": drawing(
        "<defs><g id='a'><path d='M0 0h9v9z'/></g></defs>"
        "<use href='#a'/><use xlink:href='#a' x='9'/><use href='#missing'/>"
    ),
}
