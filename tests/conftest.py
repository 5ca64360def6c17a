"""Makes the helpers beside the tests importable."""

import os
import sys
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.pop("COLUMNS", None)  # what is printed is as wide as it is in the documents
sys.path.insert(0, str(Path(__file__).parent))
