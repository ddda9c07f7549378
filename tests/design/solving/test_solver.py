"""Integer programmes are solved to the end: the answer is the best, not one near it."""

import random

import pytest

from proposal.design.solving.solver import silent_solver


def best_by_table(weights: list[int], values: list[int], most: int) -> int:
    """Return the greatest value of things that weigh no more together, worked out weight by weight."""
    best = [0] * (most + 1)
    for weight, value in zip(weights, values, strict=True):
        for room in range(most, weight - 1, -1):
            best[room] = max(best[room], best[room - weight] + value)
    return best[most]


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(4))
def test_the_best_of_many_choices_that_are_nearly_alike_is_found(seed: int) -> None:
    """What is chosen is worth 4 to 12 each, all together no more than half the weight; cents decide."""
    chance = random.Random(seed)
    weights = [chance.randint(100, 1000) for _ in range(24)]
    values = [weight + chance.randint(70, 130) for weight in weights]
    most = sum(weights) // 2
    solver = silent_solver()
    chosen = [solver.addBinary(obj=-value / 100) for value in values]
    solver.addConstr(sum(weight * one for weight, one in zip(weights, chosen, strict=True)) <= most)
    solver.run()
    found = -solver.getInfo().objective_function_value
    assert found == pytest.approx(best_by_table(weights, values, most) / 100, rel=0, abs=0.001)
