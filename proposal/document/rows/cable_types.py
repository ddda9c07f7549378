"""Rows of the types of cable and cord: what people must know of each to pull, bend and test it."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import NOT_CLIENT, Row, Schedule, Shows


class CableTypeRow(Row):
    """One type of cable or cord."""

    schedule: ClassVar = Schedule("cable_type", subject="cabling", key=("type",))

    type: Annotated[str, Shows("model", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    description: Annotated[str, Shows("description", NOT_CLIENT)] = Field(
        default="", description="What it is."
    )
    cores: Annotated[int | None, Shows("cores", NOT_CLIENT, "count")] = Field(
        default=None, description="Pairs, conductors or fibres; none of a cord."
    )
    core: Annotated[str, Shows("core", NOT_CLIENT, empty="not_applicable")] = Field(
        default="", description="What one of them is: a pair, a conductor or a fibre, with its size."
    )
    colour: Annotated[str, Shows("colour", NOT_CLIENT)] = Field(
        default="", description="Colour of the jacket."
    )
    jacket: Annotated[str, Shows("jacket", NOT_CLIENT, empty="not_applicable")] = Field(
        default="", description="Ratings marked on the jacket."
    )
    diameter_m: Annotated[float, Shows("outside_diameter", NOT_CLIENT, "small length")] = Field(
        default=0.0, description="Outside diameter, m."
    )
    rest_radius_m: Annotated[float | None, Shows("least_radius_at_rest", NOT_CLIENT, "small length")] = Field(
        default=None, description="Least bend radius at rest, m."
    )
    pull_radius_m: Annotated[
        float | None, Shows("least_radius_under_tension", NOT_CLIENT, "small length")
    ] = Field(default=None, description="Least bend radius under tension, m.")
    pull_n: Annotated[float | None, Shows("highest_pull", NOT_CLIENT, "newtons")] = Field(
        default=None, description="Highest pulling tension, N."
    )
    label: Annotated[str, Shows("label", NOT_CLIENT, "tag", link="model", follows=True)] = Field(
        default="", description="Model code of the label that goes round it; none of a cord."
    )
    label_width_m: Annotated[
        float | None, Shows("width_to_print", NOT_CLIENT, "small length", follows=True)
    ] = Field(default=None, description="Width of the part of the label that is printed, m.")
    label_height_m: Annotated[
        float | None, Shows("height_to_print", NOT_CLIENT, "small length", follows=True)
    ] = Field(default=None, description="Height of that part, m.")
    propagation: Annotated[float | None, Shows("speed_of_propagation", NOT_CLIENT, "share")] = Field(
        default=None,
        description="Speed of propagation against that of light, which a tester needs to measure lengths.",
    )
    loss_db_per_km: Annotated[float | None, Shows("loss_by_length", NOT_CLIENT, "loss by length")] = Field(
        default=None, description="Loss of a kilometre of fibre, dB."
    )
