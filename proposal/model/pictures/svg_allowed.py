"""What a drawing may hold: elements that draw, attributes and properties of style (SVG 1.1 and SVG 2).

Left out is all that runs, moves, links, asks for something outside the file, or holds another language.
"""


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


ELEMENTS = _words(
    """
    svg g defs symbol use title desc
    path rect circle ellipse line polyline polygon text tspan textPath image
    linearGradient radialGradient stop pattern clipPath mask marker
    filter feBlend feColorMatrix feComposite feDropShadow feFlood feGaussianBlur feMerge feMergeNode feOffset
    """
)
# Elements that take what another element of the drawing says, by `href`.
REFERRING = frozenset(["use", "textPath", "linearGradient", "radialGradient", "pattern"])

# Properties of style, which may also be attributes.
PROPERTIES = _words(
    """
    alignment-baseline baseline-shift clip clip-path clip-rule color color-interpolation
    color-interpolation-filters color-rendering cursor direction display dominant-baseline enable-background
    fill fill-opacity fill-rule filter flood-color flood-opacity
    font font-family font-feature-settings font-kerning font-size font-size-adjust font-stretch font-style
    font-variant font-variant-alternates font-variant-caps font-variant-east-asian font-variant-ligatures
    font-variant-numeric font-variant-position font-variation-settings font-weight
    glyph-orientation-horizontal glyph-orientation-vertical image-rendering isolation kerning letter-spacing
    lighting-color line-height marker marker-end marker-mid marker-start mask mask-type mix-blend-mode opacity
    overflow paint-order pointer-events shape-margin shape-padding shape-rendering solid-color solid-opacity
    stop-color stop-opacity
    stroke stroke-dasharray stroke-dashoffset stroke-linecap stroke-linejoin stroke-miterlimit stroke-opacity
    stroke-width text-align text-align-last text-anchor text-decoration text-decoration-color
    text-decoration-line text-decoration-style text-indent text-orientation text-rendering text-transform
    transform transform-box transform-origin unicode-bidi vector-effect visibility white-space word-spacing
    writing-mode
    """
)
# Attributes that are words and figures. Those of no meaning to a browser are here because drawing programs
# write them.
ATTRIBUTES = PROPERTIES | _words(
    """
    version baseProfile viewBox preserveAspectRatio width height x y x1 y1 x2 y2 cx cy r rx ry fx fy fr
    d points pathLength transform dx dy rotate textLength lengthAdjust startOffset method spacing side
    offset spreadMethod gradientUnits gradientTransform
    patternUnits patternContentUnits patternTransform clipPathUnits maskUnits maskContentUnits
    markerUnits markerWidth markerHeight orient refX refY filterUnits primitiveUnits
    in in2 result mode operator k1 k2 k3 k4 values stdDeviation edgeMode type focusable
    """
)
# Attributes in which any text is only a text.
TEXTS = frozenset(["id", "class", "role", "lang"])
TEXT_BEGINNINGS = ("aria-", "data-")
XML_ATTRIBUTES = frozenset(["space", "lang", "id"])
XLINK_ATTRIBUTES = frozenset(["href", "type", "title"])
