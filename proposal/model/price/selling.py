"""Prices that are data of their own: what things, years and later changes sell for, whatever they cost."""

from collections.abc import Mapping
from typing import Literal

from pydantic import Field

from proposal.model.base import Written
from proposal.model.equipment.entry import ModelCode
from proposal.quantities.money import WholeAmount

ClientDetail = Literal["room", "system", "line"]


class ChangePrices(Written):
    """What later changes are charged for: printed for the client, and part of no sum of the proposal."""

    devices: Mapping[ModelCode, WholeAmount] = Field(
        default={}, description="One more of a device with its work, by model code."
    )
    cables: Mapping[ModelCode, WholeAmount] = Field(
        default={},
        description="One more metre of a cable, pulled, by model code; a foot in US customary units.",
    )
    ends: Mapping[ModelCode, WholeAmount] = Field(
        default={}, description="Both ends of one more cable, terminated and labelled, by model code."
    )
    hours: Mapping[str, WholeAmount] = Field(
        default={}, description="One more hour, by trade; never the rate that the proposal's own work has."
    )
