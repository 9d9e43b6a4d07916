"""How fast and how good: figures of one run on one machine, held against other methods in the same run."""
