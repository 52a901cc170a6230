"""Fit every crystalline module of the CEC list and print the statistics.

PYTHONPATH=tests python tests/benchmarks/module_set.py
"""

import time

from external.comparison import compare, summary
from external.real_modules import crystalline_modules

if __name__ == "__main__":
    start = time.perf_counter()
    print(summary(compare(crystalline_modules())))
    print(f"{time.perf_counter() - start:.1f} s")
