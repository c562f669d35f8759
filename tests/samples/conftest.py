"""Put the draft on the path: it is a script beside its drawings, not part of the engine."""

import sys
from pathlib import Path

SAMPLES = Path(__file__).parent.parent.parent / "samples"
if str(SAMPLES) not in sys.path:
    sys.path.insert(0, str(SAMPLES))
