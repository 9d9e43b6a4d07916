"""The command line: arguments in, core called, words and exit code out. Starts without the web or the engine."""
