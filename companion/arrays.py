"""The kinds of arrays that all packages compute with, by name."""

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]
RowArray = NDArray[np.intp]  # rows of another array, as numpy counts them
