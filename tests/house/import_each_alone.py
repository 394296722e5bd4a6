"""Import each named module in a child of its own; print the names of those that fail.

The large libraries are read once, before the first fork: only our own modules are in question.
"""

import importlib
import os
import sys

import numpy as np  # noqa: F401
import pyqtgraph as pg  # noqa: F401
import PySide6.QtWidgets  # noqa: F401
import skyfield.api  # noqa: F401

for name in sys.argv[1:]:
    child = os.fork()
    if child == 0:
        importlib.import_module(name)
        os._exit(0)
    if os.waitpid(child, 0)[1]:
        sys.stdout.write(name + "\n")
