"""Cutting problems to check: files of them, and as many by chance as are asked for."""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def wanted(about: str, at_random: Callable[[int, int], str]) -> Iterator[tuple[str, list[Path]]]:
    """The example `cut` and the files of the command line, with one of problems by chance among them."""
    parser = argparse.ArgumentParser(description=about.splitlines()[0])
    parser.add_argument("example")
    parser.add_argument("files", nargs="*", type=Path)
    parser.add_argument("--random", type=int, default=0)
    parser.add_argument("--first", type=int, default=1)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        files = list(given.files)
        if given.random:
            files.append(Path(folder) / "random.csp")
            files[-1].write_text(at_random(given.random, given.first), encoding="utf-8")
        yield given.example, files
