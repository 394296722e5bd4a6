"""Import each named module in a child of its own; print the names of those that fail."""

import importlib
import os
import sys

for name in sys.argv[1:]:
    child = os.fork()
    if child == 0:
        importlib.import_module(name)
        os._exit(0)
    if os.waitpid(child, 0)[1]:
        sys.stdout.write(name + "\n")
