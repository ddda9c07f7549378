"""An integer programme of numbers from 0 to 1, gathered row by row and handed to the solver at once."""

from collections.abc import Sequence
from dataclasses import field

from proposal.design.solving.solver import silent_solver
from proposal.field_classes import dataclass


@dataclass(slots=True)
class Rows:
    """Columns, costs and rows, as they grow.

    cost: of each column; the least sum is sought.
    """

    cost: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    starts: list[int] = field(default_factory=lambda: [0])
    columns: list[int] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    lower: list[float] = field(default_factory=list)
    upper: list[float] = field(default_factory=list)

    def column(self, *, whole: bool) -> int:
        """Add a number from 0 to 1 and return its column.

        whole: whether only 0 and 1 are allowed.
        """
        self.cost.append(0.0)
        self.whole.append(whole)
        return len(self.cost) - 1

    def add(self, terms: Sequence[tuple[int, float]], lower: float, upper: float) -> None:
        """Add a row: the sum of value times column lies between lower and upper."""
        self.columns += [column for column, _ in terms]
        self.values += [value for _, value in terms]
        self.starts.append(len(self.columns))
        self.lower.append(lower)
        self.upper.append(upper)

    def solved(self, most_nodes: int = 0) -> list[float] | None:
        """Return the value of each column in a best answer; None where there is none.

        most_nodes: after so many nodes the search ends without an answer, 0 for no limit.
        Raises Unsettled where the limit ended it.
        """
        import highspy

        if not self.cost:
            return []
        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = len(self.cost), len(self.lower)
        model.col_cost_ = self.cost
        model.col_lower_, model.col_upper_ = [0.0] * len(self.cost), [1.0] * len(self.cost)
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        model.integrality_ = [kinds[whole] for whole in self.whole]
        model.row_lower_, model.row_upper_ = self.lower, self.upper
        model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        model.a_matrix_.start_ = self.starts
        model.a_matrix_.index_ = self.columns
        model.a_matrix_.value_ = self.values
        solver = silent_solver()
        if most_nodes:
            solver.setOptionValue("mip_max_nodes", most_nodes)
        solver.passModel(model)
        solver.run()
        status = solver.getModelStatus()
        if status == highspy.HighsModelStatus.kOptimal:
            return [float(value) for value in solver.getSolution().col_value]
        if status == highspy.HighsModelStatus.kInfeasible:
            return None
        raise Unsettled


class Unsettled(Exception):  # noqa: N818 - it names the state
    """The search ended before it could tell."""


def covering(members: Sequence[int], neighbours: Sequence[set[int]]) -> list[list[int]]:
    """Return groups among members, all of whom exclude each other, that hold every pair that does.

    members: numbers, in order; neighbours: of every number, those that it excludes.
    One row of an integer programme does for all pairs of a group.
    """
    covered: set[tuple[int, int]] = set()
    groups = []
    for one in members:
        for other in sorted(neighbours[one]):
            if one < other and (one, other) not in covered:
                group = [one, other]
                for third in sorted(neighbours[one] & neighbours[other]):
                    if all(third in neighbours[member] for member in group):
                        group.append(third)
                group.sort()
                covered |= {(a, b) for n, a in enumerate(group) for b in group[n + 1 :]}
                groups.append(group)
    return groups
