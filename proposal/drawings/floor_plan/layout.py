"""The floor plan of a storey as SVG."""

from proposal.drawings.drawing import figure_kind
from proposal.drawings.floor_plan import spec_of
from proposal.drawings.plan.storey_drawing import draw_storey, storey_foot
from proposal.drawings.plan.storey_plan import storey_words

KIND = figure_kind(spec_of, storey_words, draw_storey, storey_foot)
