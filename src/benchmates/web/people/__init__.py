"""Staff, class lists, musts, and the record of every change."""
