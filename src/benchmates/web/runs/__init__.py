"""Groups made, groups as they sat, lessons that ended."""
