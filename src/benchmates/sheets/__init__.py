"""Paper: group cards, the strip, the wall sheet and the run sheet."""
