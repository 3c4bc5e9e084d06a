#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Quantiles, cumulative probabilities, losses and reorder points by an outside library: scipy.stats (BSD-3).

Without arguments it prints the table; with --check FILE it compares. discrete_laws.csv was printed by scipy 1.10.1 (Debian's
python3-scipy) and is what the tests of src/stock are held against, with or without scipy."""
import sys

try:
    from scipy.stats import nbinom, poisson
except ImportError:
    print("scipy is not installed: apt-get install python3-scipy")
    sys.exit(77)

SERVICES = (0.5, 0.8, 0.9, 0.95, 0.98, 0.99, 0.999)


def loss(law, mean, k):
    """E[(D - k)+], summed over the tail."""
    return sum(law.sf(j) for j in range(k, int(mean + 60 * (1 + mean**0.5))))


def rows():
    for mean in (0.05, 0.1, 0.5, 1, 2, 3, 4.5, 6, 10, 20, 50, 120, 700):
        for service in SERVICES:
            k = int(poisson.ppf(service, mean))
            yield ("poisson", mean, 0, service, k, poisson.cdf(k, mean), loss(poisson(mean), mean, k))
    for size, chance in ((0.5, 0.3), (2, 0.4), (4, 0.2), (10, 0.5)):
        law = nbinom(size, chance)
        for service in SERVICES:
            k = int(law.ppf(service))
            yield ("nbinom", size, chance, service, k, law.cdf(k), loss(law, law.mean(), k))
    for mean in (0.3, 2, 7.5, 40):
        for quantity in (1, 4, 12):
            for service in SERVICES[2:6]:
                r = -quantity
                while sum(poisson.cdf(range(r, r + quantity), mean)) / quantity < service:
                    r += 1
                fill = sum(poisson.cdf(range(r, r + quantity), mean)) / quantity
                yield ("fill", mean, quantity, service, r, fill, 0.0)


def text():
    lines = ["law,first,second,service,level,reached,loss"]
    lines += ["%s,%g,%g,%g,%d,%.10e,%.10e" % row for row in rows()]
    return "\n".join(lines) + "\n"


def same(ours, theirs):
    """Letter by letter but for the last digits, which may change from one release of scipy to the next."""
    for a, b in zip(ours.split(","), theirs.split(",")):
        if a != b and abs(float(a) - float(b)) > 1e-8 * max(abs(float(a)), 1e-3):
            return False
    return True


if len(sys.argv) == 1:
    print(text(), end="")
elif sys.argv[1] == "--check":
    with open(sys.argv[2], encoding="utf-8") as frozen:
        old, new = frozen.read().splitlines(), text().splitlines()
    wrong = [a for a, b in zip(old, new) if not same(a, b)]
    if len(old) != len(new) or wrong:
        sys.exit("the frozen table is not what scipy gives: %s" % wrong[:3])
    print("%d lines agree" % len(new))
