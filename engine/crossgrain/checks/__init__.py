"""What a maker looks over before cutting. A check returns findings: it never raises on a pattern, and never mends."""
