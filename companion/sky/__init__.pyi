from .advice import AdviceError as AdviceError
from .site import DRY_PAN as DRY_PAN, LOON_BARRENS as LOON_BARRENS, Site as Site
from .target import Kind as Kind, Target as Target
