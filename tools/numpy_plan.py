"""A plain numpy program of the size of a plan, to compare speeds with.

2,000 draws of 12 uncertain numbers, 40 steps of column arithmetic, 30 outputs
with the middle and a nine-in-ten band each. Prints the median milliseconds of
one such run. It computes nothing of use: it is the least a careful person
would write with a general array library.
"""

import time

import numpy as np

DRAWS, STEPS, OUTPUTS = 2000, 40, 30


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
    times = []
    for _ in range(300):
        t = time.perf_counter()
        run(rng)
        times.append(time.perf_counter() - t)
    print(f"{1000 * sorted(times)[len(times) // 2]:.2f}")


main()
