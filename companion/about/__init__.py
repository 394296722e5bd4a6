"""What a target is, and what an instrument shows of it at a moment. Pure.

What other packages may use is listed in ``__init__.pyi``; names load on first use, so that
the window paints before numpy and the ephemeris are read.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
