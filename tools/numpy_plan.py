"""A plain numpy program of the size of a plan, to compare speeds with.

2,000 draws of 12 uncertain numbers, 40 steps of column arithmetic, 30 outputs
with the middle and a nine-in-ten band each. Prints the median milliseconds of
one such run, by the clock and of the processor. It computes nothing of use: it
is the least a careful person would write with a general array library.
"""

import time

import numpy as np

DRAWS, STEPS, OUTPUTS, RUNS = 2000, 40, 30, 300


def run(rng):
    leaves = [np.exp(0.1 * rng.standard_normal(DRAWS)) for _ in range(12)]
    cols = list(leaves)
    for i in range(STEPS):
        a, b = cols[i % len(cols)], cols[(i * 7 + 3) % len(cols)]
        cols.append(a * b / (1 + 0.5 * a) if i % 3 else a / (1 - 0.04) + b)
    out = []
    for c in cols[-OUTPUTS:]:
        part = np.partition(c, (99, 999, 1899))
        out.append((part[999], part[99], part[1899]))
    return out


def main():
    rng = np.random.default_rng(1)
    wall = []
    busy = time.process_time()
    for _ in range(RUNS):
        t = time.perf_counter()
        run(rng)
        wall.append(time.perf_counter() - t)
    busy = (time.process_time() - busy) / RUNS
    print(f"{1000 * sorted(wall)[RUNS // 2]:.2f} {1000 * busy:.2f}")


main()
