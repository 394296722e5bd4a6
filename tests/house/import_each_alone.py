"""Import the modules of each folder in a child of its own; print the names of those that fail.

Circles between files are looked for elsewhere, so that modules of one folder may share a child.
The large libraries are read once, before the first fork: only our own modules are in question.
"""

import importlib
import os
import sys
from itertools import groupby

import numpy as np  # noqa: F401
import pyqtgraph as pg  # noqa: F401
import PySide6.QtWidgets  # noqa: F401
import skyfield.api  # noqa: F401

for _folder, names in groupby(sorted(sys.argv[1:]), lambda name: name.rpartition(".")[0]):
    child = os.fork()
    if child == 0:
        for name in names:
            try:
                importlib.import_module(name)
            except Exception as error:  # noqa: BLE001 - whatever stops it is told
                sys.stdout.write(f"{name}: {error}\n")
                sys.stdout.flush()
        os._exit(0)
    if os.waitpid(child, 0)[1]:
        sys.stdout.write("a folder's modules\n")
