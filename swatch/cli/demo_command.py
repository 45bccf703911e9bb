"""``swatch demo``: builds the invented demo studio from its photos and prints its answers."""

from __future__ import annotations

import argparse

from swatch.cli.out import Out

HELP = "build the invented demo studio from its photos, print its answers, then open the window on it"
EXAMPLE = "swatch demo --no-window --into demo-studio"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--into", metavar="DIR", help="where to build it (default: a folder of the user's data)")
    parser.add_argument("--no-window", action="store_true", help="stop after printing")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    raise NotImplementedError
