"""The crates that are built in are as `.deny.toml` and `Cargo.toml` say.

    python crates.py

Every crate's license is one of those allowed, every crate comes from crates.io, none is there in two versions but
those that are skipped, no skip and no license stands there in vain, and none asks for a newer Rust than ours does.
`cargo deny check` says the same and looks for known faults besides, but takes minutes to install and a list of
faults that is not everywhere to be had. Prints a line for each fault; exits 1 if there is any.

requirements: Python 3.11 or later
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).parents[1]
REGISTRY = "registry+https://github.com/rust-lang/crates.io-index"
LICENSE = re.compile(r"[\w.+-]+(?: WITH [\w.+-]+)?")


def built_in() -> list[dict]:
    """The crates that ours is built from on any system, itself left out: what tests alone use is in no binary."""
    everything = json.loads(cargo("metadata", "--format-version", "1"))
    ours = everything["resolve"]["root"]
    tree = cargo("tree", "--edges", "normal,build", "--target", "all", "--prefix", "none", "--format", "{p}")
    named = {tuple(line.split(" ")[:2]) for line in tree.splitlines()}
    is_built_in = lambda crate: (crate["name"], f"v{crate['version']}") in named and crate["id"] != ours
    return [crate for crate in everything["packages"] if is_built_in(crate)]


def cargo(*words: str) -> str:
    command = ["cargo", *words, "--locked"]
    return subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout


def allows(expression: str, allowed: set[str]) -> bool:
    """Whether an SPDX expression can be met with the allowed licenses; `/` is an older OR."""
    words = {"AND": "and", "OR": "or"}
    sum_of = lambda found: words.get(found[0], str(found[0] in allowed))
    spaced = expression.replace("/", " OR ")
    return eval(LICENSE.sub(sum_of, spaced), {"__builtins__": {}})


def version(text: str) -> tuple[int, ...]:
    return tuple(int(part) for part in f"{text}.0".split(".")[:3])


def faults(crates: list[dict], rules: dict, rust: str) -> list[str]:
    allowed = set(rules["licenses"]["allow"])
    skips = [skip["crate"].split("@") for skip in rules["bans"]["skip"]]
    is_skipped = lambda crate: any(
        crate["name"] == name and f"{crate['version']}.".startswith(f"{number}.") for name, number in skips)
    told = []
    for crate in crates:
        name = f"{crate['name']} {crate['version']}"
        if crate["source"] != REGISTRY:
            told.append(f"{name} comes from {crate['source']}")
        if not crate["license"] or not allows(crate["license"], allowed):
            told.append(f"{name} is under {crate['license']}")
        if crate["rust_version"] and version(crate["rust_version"]) > version(rust):
            told.append(f"{name} asks for Rust {crate['rust_version']}, and ours is {rust}")
    counts = Counter(crate["name"] for crate in crates if not is_skipped(crate))
    told += [f"{name} is there in {count} versions" for name, count in counts.items() if count > 1]
    all_names = Counter(crate["name"] for crate in crates)
    told += [f"{name}@{number} is skipped in vain" for name, number in skips if all_names[name] < 2]
    needed = lambda license: any(not allows(crate["license"] or "None", allowed - {license}) for crate in crates)
    told += [f"{license} is allowed in vain" for license in sorted(allowed) if not needed(license)]
    return told


def controls(crates: list[dict], rules: dict, rust: str) -> list[str]:
    """Each kind of fault, planted, must be told."""
    first = crates[0]
    planted = {
        "under": [{**first, "license": "GPL-3.0-only OR (MIT AND LGPL-3.0-only)"}],
        "comes from": [{**first, "source": "git+https://example.org/it"}],
        "asks for Rust": [{**first, "rust_version": "1.1000"}],
        "in 2 versions": [{**first, "version": "99.0.0"}],
    }
    return [f"control: no crate that {fault} is told" for fault, more in planted.items()
            if not any(fault in told for told in faults(crates + more, rules, rust))]


def main() -> int:
    rules = tomllib.loads((ROOT / ".deny.toml").read_text())
    rust = tomllib.loads((ROOT / "Cargo.toml").read_text())["package"]["rust-version"]
    crates = built_in()
    told = faults(crates, rules, rust) + controls(crates, rules, rust)
    print(*told, f"{len(crates)} crates, {len(told)} faults", sep="\n")
    return 1 if told else 0


if __name__ == "__main__":
    sys.exit(main())
