"""``python -m companion`` is the same as ``companion``."""

from companion.cli import main

raise SystemExit(main())
