"""Count pixels that are not pure red."""

import numpy as np
from PySide6.QtGui import QImage, QPixmap


def stained(picture: QPixmap) -> int:
    """Give the number of pixels with green or blue in them."""
    image = picture.toImage().convertToFormat(QImage.Format.Format_RGB32)
    bits = np.frombuffer(bytes(image.constBits()), np.uint8)
    pixels = bits.reshape(image.height(), image.bytesPerLine() // 4, 4)[:, : image.width()]
    return int(np.count_nonzero(pixels[:, :, 0] | pixels[:, :, 1]))


def lit(picture: QPixmap) -> int:
    """Give the number of pixels that are not black: a picture of nothing is pure, too."""
    image = picture.toImage().convertToFormat(QImage.Format.Format_RGB32)
    bits = np.frombuffer(bytes(image.constBits()), np.uint8)
    return int(np.count_nonzero(bits.reshape(-1, 4)[:, 2]))
