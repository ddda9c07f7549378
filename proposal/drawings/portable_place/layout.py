"""The plan of a portable set in a place as SVG: drawn as that of a room, with the storey beside it."""

from proposal.drawings.drawing import figure_kind
from proposal.drawings.portable_place import alternative, spec_of
from proposal.drawings.room_plan.layout import plan_foot, render

KIND = figure_kind(spec_of, alternative, render, plan_foot)
