# Every word here is one of go.py; `make` alone lists them. Further words go in ARGS: make test ARGS="-k locks"
PYTHON ?= python3
VERBS := setup demo test test-long bench bench-full check docs lock

.PHONY: help $(VERBS)

help:
	@$(PYTHON) go.py help

$(VERBS):
	@$(PYTHON) go.py $@ $(ARGS)
