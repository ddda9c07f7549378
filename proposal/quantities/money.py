"""Amounts of money, with their currency."""

import re
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import AfterValidator, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from proposal.field_classes import dataclass
from proposal.quantities.currencies import is_currency, smallest_unit
from proposal.quantities.messages import refusal, shape, shown

if TYPE_CHECKING:
    from pydantic import GetJsonSchemaHandler
    from pydantic.json_schema import JsonSchemaValue

_LONGEST_TEXT = 64
_AMOUNT = r"[+-]?[0-9]{1,12}(?:\.[0-9]{1,4})?"
_MONEY = re.compile(
    rf"(?:(?P<first>[A-Z]{{3}}) *(?P<after>{_AMOUNT})|(?P<before>{_AMOUNT}) *(?P<last>[A-Z]{{3}}))"
)
WANTED_CURRENCY = "wanted a currency by its three letters of ISO 4217, such as EUR or USD"
_WANTED_MONEY = "an amount with its currency, such as 1250.00 EUR"


@dataclass(frozen=True, slots=True)
class Money:
    """An amount of money in one currency.

    amount: as written, so that 1250.00 keeps its two places.
    currency: code of ISO 4217.
    """

    amount: Decimal
    currency: str

    def __str__(self) -> str:
        """Return the text it is read from, `1250.00 EUR`."""
        return f"{self.amount:f} {self.currency}"

    @classmethod
    def read(cls, value: object) -> "Money":
        """Return the money that a text means.

        value: such as `1250.00 EUR` or `EUR 1250.00`.
        Raises PydanticCustomError whose message says what was wanted and found.
        """
        if isinstance(value, Money):
            return value
        if not isinstance(value, str):
            raise refusal(_WANTED_MONEY, shape(value))
        if len(value) <= _LONGEST_TEXT and re.search(r"[0-9],[0-9]", value):
            raise refusal("an amount with a decimal point and no comma, such as 1250.00 EUR", shown(value))
        found = None if len(value) > _LONGEST_TEXT else _MONEY.fullmatch(value.replace("−", "-").strip())
        if found is None:
            raise refusal(_WANTED_MONEY, shown(value))
        currency = found["first"] or found["last"]
        if not is_currency(currency):
            raise refusal(WANTED_CURRENCY.removeprefix("wanted "), currency)
        return cls(Decimal(found["after"] or found["before"]), currency)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read text and give text back."""
        return core_schema.no_info_plain_validator_function(
            cls.read, serialization=core_schema.to_string_ser_schema(when_used="always")
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: "GetJsonSchemaHandler"
    ) -> "JsonSchemaValue":
        """Describe the text for editors."""
        return {
            "type": "string",
            "description": "An amount with its currency, such as 1250.00 EUR.",
            "examples": ["1250.00 EUR"],
            "pattern": r"^\s*(?:[A-Z]{3} *[-−+]?[0-9]+(?:\.[0-9]{1,4})?|"
            r"[-−+]?[0-9]+(?:\.[0-9]{1,4})? *[A-Z]{3})\s*$",
        }


def _payable(money: Money) -> Money:
    """Return money that can be paid as it stands; refuse what is finer than the smallest unit."""
    step = smallest_unit(money.currency)
    if money.amount % step:
        raise refusal(
            f"an amount in steps of {step} {money.currency}, such as {100 + step} {money.currency}",
            str(money),
        )
    return money


WholeAmount = Annotated[Money, AfterValidator(_payable)]
"""An amount that stands for itself; the price of one unit may be finer, and is `Money`."""
