"""Kernels that have no way in from Python, asked from Python all the same."""

import inspect

import numba


def by_hand(kernel):
    """The same kernel, called by one that may be called from Python."""
    names = ", ".join(inspect.signature(kernel.py_func).parameters)
    known = {"kernel": kernel}
    exec(f"def ask({names}): return kernel({names})", known)
    return numba.njit(error_model="numpy", _nrt=False)(known["ask"])
