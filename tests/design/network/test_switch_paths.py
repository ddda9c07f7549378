"""Which switches a frame passes: trees at random against a search of another library."""

import random

import networkx as nx
import pytest

from proposal.design.network.switch_paths import SwitchWays


@pytest.mark.independent
def test_the_way_through_random_trees_is_the_shortest_one() -> None:
    chance = random.Random(7)
    for _ in range(60):
        count = chance.randint(1, 8)
        switches, joins, graph = [], [], nx.Graph()
        devices = [f"D{n}" for n in range(chance.randint(2, 12))]
        homes = {tag: chance.randrange(count) for tag in devices}
        for n in range(count):
            plugged = [tag for tag in devices if homes[tag] == n]
            switches.append(f"S{n}")
            joins += [(tag, f"S{n}") for tag in plugged]
            graph.add_edges_from((f"S{n}", tag) for tag in plugged)
            # Now and then a switch stays apart.
            if n and chance.random() < 0.85:
                other = chance.randrange(n)
                joins.append((f"S{n}", f"S{other}"))
                graph.add_edge(f"S{n}", f"S{other}")
        ways = SwitchWays(switches, joins, {})
        for one in devices:
            for other in devices:
                if not nx.has_path(graph, one, other):
                    assert ways.between(one, other) is None
                    continue
                way = nx.shortest_path(graph, one, other)
                assert ways.between(one, other) == tuple(tag for tag in way if tag.startswith("S"))
            assert ways.switch_of(one) == f"S{homes[one]}"


def test_what_is_nowhere_has_no_way() -> None:
    ways = SwitchWays([], [], {})
    assert ways.between("A", "B") is None
    assert ways.switch_of("A") is None
    assert ways.delay_s("A") is None
