"""The exact side: what can be shown to hold or not to hold, by integer programming."""
