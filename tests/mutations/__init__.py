"""Deliberate faults, drawn at random: which of them do the tests not see?

    python -m tests.mutations --seed 1 --count 200

A copy of the tree is mutated, never the tree itself. A survivor that matters wants a test; one that changes
nothing that anybody can see is listed with its reason in `equivalent.csv`.
"""
