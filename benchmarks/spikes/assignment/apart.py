"""Run the CP-SAT check in a process of its own.

The wheels of highspy and ortools each bring a shared library of HiGHS under the same name;
whichever is imported second fails with an undefined symbol, so they cannot share a process.
"""

from __future__ import annotations

import pickle
import subprocess
import sys

from .question import Answer, Question


def check(question: Question, *, seconds: float) -> Answer:
    """Answer the question by CP-SAT; bounds are -1 for levels that were not reached."""
    done = subprocess.run(
        [sys.executable, "-m", f"{__package__}.cpsat"],
        input=pickle.dumps((question, seconds)),
        stdout=subprocess.PIPE,
        check=True,
    )
    answer = pickle.loads(done.stdout)
    if not isinstance(answer, Answer):
        raise TypeError(f"the check answered with a {type(answer).__name__}")
    return answer
