"""Checks of requirements against the rest of a project."""

from collections.abc import Iterator, Mapping

from proposal.model.reading.tree import Path
from proposal.model.requirements.answers import PriceAnswer
from proposal.model.requirements.requirements import Requirement


def sums_in_other_currencies(
    requirements: Mapping[str, Requirement], currency: str
) -> Iterator[tuple[Path, str]]:
    """Yield path and message of each limit of a sum that is not in the project's currency.

    requirements: by tag.  currency: of the project, by its code of ISO 4217.
    """
    for tag, requirement in requirements.items():
        for place, answer in enumerate(requirement.answers):
            if not isinstance(answer, PriceAnswer):
                continue
            for field in ("at_least", "at_most"):
                limit = getattr(answer, field)
                if limit is not None and limit.currency != currency:
                    path = ("requirements", tag, "answers", place, field)
                    yield path, f"wanted an amount in {currency}, as the price is; found {limit}"
