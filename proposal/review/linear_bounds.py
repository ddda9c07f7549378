"""Everything that fits some sums of unknowns: how little and how much each can be, by linear programming."""

from collections.abc import Mapping
from typing import Any

from proposal.design.solving.solver import silent_solver


class LinearBounds:
    """All values of some unknowns that fit what is known of their sums."""

    def __init__(self) -> None:
        """Begin with no unknowns."""
        self.solver: Any = silent_solver()
        self.columns: dict[tuple[str, str], int] = {}

    def unknown(self, sort: str, name: str, low: float, high: float) -> int:
        """Return the column of an unknown, which is new where it was not asked for before.

        sort, name: what identifies the unknown.
        low, high: the least and the most that it can be.
        """
        column = self.columns.get((sort, name))
        if column is None:
            column = self.columns[sort, name] = len(self.columns)
            self.solver.addVar(low, high)
        return column

    def sum(self, terms: Mapping[int, float], low: float, high: float) -> None:
        """Say between what a sum of unknowns lies.

        terms: factor of each unknown, by its column.
        low, high: the least and the most that the sum can be.
        """
        columns = [column for column, factor in terms.items() if factor]
        self.solver.addRow(low, high, len(columns), columns, [terms[column] for column in columns])

    def between(self, terms: Mapping[int, float], value: float) -> tuple[float, float]:
        """Return the least and the most that a sum of unknowns can be.

        value: what it is, which stands for both where the solver finds no answer.
        """
        import highspy

        ends = []
        for sense in (highspy.ObjSense.kMinimize, highspy.ObjSense.kMaximize):
            self.solver.changeObjectiveSense(sense)
            for column in self.columns.values():
                self.solver.changeColCost(column, terms.get(column, 0.0))
            self.solver.run()
            if self.solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
                return value, value
            ends.append(float(self.solver.getInfo().objective_function_value))
        return ends[0], ends[1]
