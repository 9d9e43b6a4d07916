"""How a class can work together: ways of working as chains of stages, kept as data."""
