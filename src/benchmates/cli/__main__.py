"""`python -m benchmates.cli`, where no command is on the path."""

from benchmates.cli.main import main

main()
