"""Reads a class list and, at a terminal, asks which column is which when its headings are in other words."""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Mapping
from pathlib import Path

import typer

from benchmates.cli.exits import unreadable
from benchmates.cli.given import STDIN, bytes_of
from benchmates.core.errors import CannotRead, Fault
from benchmates.core.roster.class_list import ClassList
