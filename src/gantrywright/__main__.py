"""``python -m gantrywright``."""

import sys

from gantrywright.cli.main import main

sys.exit(main())
