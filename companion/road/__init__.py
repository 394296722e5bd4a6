"""The road into the sky: what a beginner learns next, here and tonight. Needs no Qt and no clock.

What other packages may use is listed in ``__init__.pyi``.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
