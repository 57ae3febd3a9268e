"""``python -m torquewright``."""

import sys

from torquewright.cli import main

sys.exit(main())
