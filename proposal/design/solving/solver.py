"""One way to start the solver of integer programmes: silent, on one thread, the same answer every time."""

from typing import Any


def silent_solver() -> Any:
    """Return a new HiGHS solver that prints nothing and leaves no gap that it was not told of."""
    import highspy

    class Silent(highspy.Highs):
        """A solver that prints nothing: the library's banner comes with its callbacks."""

        def enableCallbacks(self) -> None:  # noqa: N802 - the library's name
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()  # type: ignore[no-untyped-call]  # the library's

    solver = Silent()  # type: ignore[no-untyped-call]  # the library's
    for name, value in (
        ("output_flag", False),
        ("parallel", "off"),
        # Threads of the library do not run in a copy of this process, which would wait for them for ever.
        ("threads", 1),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 0.0),
        ("mip_feasibility_tolerance", 1e-9),
    ):
        solver.setOptionValue(name, value)
    return solver
