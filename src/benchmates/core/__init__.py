"""The trade itself: no web framework, no typesetter, no clock and no chance of its own."""
