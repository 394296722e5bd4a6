"""The same answers as text and JSON, one command a file. Needs no Qt.

What other packages may use is listed in ``__init__.pyi``; names load on first use, so that
the command line is parsed before anything heavy is read.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
