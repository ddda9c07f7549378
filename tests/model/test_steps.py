"""A step is done again where what it is given or what it reads of the project is another, and only there."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from proposal.model.design_rules import CablingRules
from proposal.model.loading import load_source
from proposal.model.project import Project
from proposal.model.reads import differing, reads_noted
from proposal.model.source import ProjectSource
from proposal.model.steps import Doing, NotedSteps, plainly

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
SLACK = ("project", "rules", "cabling", "rack_slack")

done: list[str] = []
"""The steps that were done, by name."""


def slack(project: Project) -> float:
    done.append("slack")
    return project.brief.rules.cabling.rack_slack


def cord(project: Project) -> float:
    done.append("cord")
    return project.brief.rules.cabling.equipment_cord


def rules(project: Project) -> tuple[CablingRules, ...]:
    done.append("rules")
    return (project.brief.rules.cabling,)


def together(lengths: list[float]) -> float:
    done.append("together")
    return sum(lengths)


def in_whole_metres(length: float) -> int:
    done.append("in whole metres")
    return int(length)


def doubled(length: int) -> int:
    done.append("doubled")
    return 2 * length


@dataclass
class Shelf:
    """Keeps what it has read."""

    project: Project
    kept: dict[str, float] = field(default_factory=dict)

    def slack(self) -> float:
        return self.kept.setdefault("slack", self.project.brief.rules.cabling.rack_slack)


def first(shelf: Shelf) -> float:
    done.append("first")
    return shelf.slack()


def second(shelf: Shelf) -> float:
    done.append("second")
    return shelf.slack()


@contextmanager
def noted(project: Project) -> Iterator[NotedSteps]:
    with reads_noted() as taken:
        yield NotedSteps(taken, sharing=(Shelf,))


def done_again(computation: Callable[[Project, Doing], object], slack_m: str) -> list[str]:
    """Return which steps are done again with another slack, after comparing with all done."""
    source: ProjectSource = load_source(MINIMAL)
    with noted(source.base) as steps:
        computation(source.base, steps.do)
    other = source.varied(SLACK, slack_m)
    wanted = computation(other, plainly)
    done.clear()
    assert computation(other, steps.again(list(differing(source.base, other)))) == wanted
    return list(done)


def test_a_step_that_reads_another_value_is_done_again_and_no_other() -> None:
    assert done_again(lambda project, do: (do(slack, project), do(cord, project)), "9 m") == ["slack"]


def test_a_step_that_is_given_the_same_result_is_not_done_again() -> None:
    def computation(project: Project, do: Doing) -> int:
        return do(doubled, do(in_whole_metres, do(slack, project)))

    assert done_again(computation, "9 m") == ["slack", "in whole metres", "doubled"]
    nearly = f"{load_source(MINIMAL).base.brief.rules.cabling.rack_slack + 0.25} m"
    assert done_again(computation, nearly) == ["slack", "in whole metres"]


def test_a_list_that_grows_after_a_step_was_given_it_counts_as_it_was() -> None:
    def computation(project: Project, do: Doing) -> float:
        lengths = [do(cord, project)]
        before = do(together, lengths)
        lengths.append(do(slack, project))
        return before + do(together, lengths)

    assert done_again(computation, "9 m") == ["slack", "together"]


def test_a_result_that_holds_a_part_of_the_project_has_read_all_of_it() -> None:
    def computation(project: Project, do: Doing) -> float:
        return do(rules, project)[0].rack_slack

    assert done_again(computation, "9 m") == ["rules"]


def test_steps_share_what_a_thing_has_read_that_keeps_it() -> None:
    def computation(project: Project, do: Doing) -> tuple[float, float]:
        shelf = Shelf(project)
        return do(first, shelf), do(second, shelf)

    assert done_again(computation, "9 m") == ["first", "second"]
