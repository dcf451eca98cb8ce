"""One step of every run at once, by the exponential Rosenbrock method of third order.

y₂ = y + h·φ₁(hJ)·f + h²·φ₂(hJ)·∂f/∂t                                             Eq. (1)
y₃ = y₂ + 2h·φ₃(hJ)·(f(t+h, y₂) − f − J·(y₂ − y) − h·∂f/∂t)                       Eq. (2)

exprb32 of Hochbruck and Ostermann, Acta Numerica 2010 (from memory). Where the circuit is
linear and the port goes in straight lines, Eq. (1) is the solution itself: the error is 0 and
a step may reach as far as the mode does. Inside the step the curve is the same step, made
shorter.
"""

from dataclasses import dataclass

import numpy as np

from sinkside.outages.circuit import Array, Index
from sinkside.outages.equations import Equations
from sinkside.outages.matrix_functions import Functions, functions, times


@dataclass(frozen=True, kw_only=True)
class Start:
    """Where runs stand, and what moves them from there.

    Parameters
    ----------
    slope, jacobian, drift
        f, ∂f/∂y and ∂f/∂t.
    """

    equations: Equations
    t_s: Array
    y: Array
    slope: Array
    jacobian: Array
    drift: Array
    functions: Functions

    @classmethod
    def of(cls, equations: Equations, t_s: Array, y: Array, x: Array) -> "Start":
        """Linearise there; `x` is the vector at that place."""
        jacobian, drift = equations.linearised(x)
        return cls(
            equations=equations,
            t_s=t_s,
            y=y,
            slope=np.einsum("rcn,cn->rn", equations.rows[: y.shape[0]], x),
            jacobian=jacobian,
            drift=drift,
            functions=functions(jacobian),
        )

    def at(self, chosen: Index) -> "Start":
        """The chosen runs."""
        return Start(
            equations=self.equations.at(chosen),
            t_s=self.t_s[chosen],
            y=self.y[:, chosen],
            slope=self.slope[:, chosen],
            jacobian=self.jacobian[:, :, chosen],
            drift=self.drift[:, chosen],
            functions=self.functions.at(chosen),
        )

    def reach_s(self, allowed: Array) -> Array:
        """The longest step that no lively mode forbids."""
        return self.functions.reach_s(times(self.jacobian, self.slope) + self.drift, allowed)

    def after(self, h: Array) -> tuple[Array, Array]:
        """States after a step of `h`, and what Eq. (2) corrected: the error of Eq. (1)."""
        phi = self.functions.phi
        y = self.y + h * phi(1, h, self.slope) + h * h * phi(2, h, self.drift)
        if self.equations.linear:
            return y, np.zeros_like(y)
        there = self.equations.slope(self.t_s + h, y)
        bend = there - self.slope - times(self.jacobian, y - self.y) - h * self.drift
        error = 2.0 * h * phi(3, h, bend)
        return y + error, error
