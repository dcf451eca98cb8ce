"""Inputs that nobody would type on purpose, and calls of the command line that take them.

Every input has a random stream of its own, so its kind and number are enough to see it again.
The folder is used by `bench_hostile.py` and, in a small slice, by the tests.
"""
