"""The type of a formula's argument: a float, or an array of them, and the result likewise.

Nothing here needs the array library at run time: plain arithmetic serves both.
"""

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Numbers = TypeVar("Numbers", float, "NDArray[np.float64]")
