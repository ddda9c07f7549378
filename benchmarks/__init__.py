"""How long the program takes, and how time and memory grow with the building: run by hand, not by the tests.

`python -m benchmarks` runs all parts and prints a row a figure; `python -m benchmarks check rooms` runs these
two; `--write` puts the figures into `benchmarks/figures.md`, in the column of the commit.

- `check`: `proposal check` beside the bare imports of the packages that it loads.
- `build`: all editions cold (a fresh copy of the project), again unchanged, and again with one word of one
  room type changed; then the client edition alone, cold and unchanged. Each beside `mkdocs build` of the same
  editions from the configurations, Markdown and files that our build has just written, one after the other.
- `preview`: from saving a file with a new word to the answer on loopback that holds it, and to the moment
  when the program rests again. Its processor time includes answering, at most twenty times a second.
- `rooms`: `check` of generated buildings, with the exponents of growth over all sizes and between the last
  two, and the memory of the largest process.
- `pages`: the client edition, cold, of buildings in which every room has a type of its own, beside
  `mkdocs build` of the same pages.
- `radio` and `cabling`: steps of the design by themselves, on buildings from 25 rooms to 200.

Compared commands take turns, and medians are told. All runs on two processors at most. Nothing makes a PDF.
"""
