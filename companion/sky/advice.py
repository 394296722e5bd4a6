"""The errors that a person can act on, for those who come to them by the sky's façade."""

from companion.advice import AdviceError

__all__ = ["AdviceError"]
