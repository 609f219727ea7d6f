"""Sites of a dozen files, published over one another; and what must hold whenever that is cut off."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from handouts.publishing.manifest import MANIFEST, digest_of, find_damage, manifest_of, site_digest
from handouts.publishing.publish import MARK, go_back, hold_lock, published_objects, recover, stage, swap_in
from handouts.store.objects import Objects
from tests.faults.layer import Layer, Step

Pages = Mapping[str, bytes]


def pages_of(name: str) -> dict[str, bytes]:
    """Fifteen files, some equal in every site, some of other bytes, one that no other site has."""
    files = {f"en/exercises/item-{number}/index.html": f"<p>{name} {number}".encode() * 3 for number in range(7)}
    files |= {"index.html": name.encode(), "styles/screen.css": b"p{}", "empty.txt": b"", f"{name}/only.html": b"x" * 40}
    files |= {f"es/exercises/item-{number}/index.html": f"<p>{number}".encode() * 3 for number in range(3)}
    return files | {"en/sheet.pdf": name.encode() + bytes(3000)}


SITES: Mapping[str, Pages] = {name: pages_of(name) for name in ("oldest", "older", "old", "new")}
LASTING = {"site", ".previous", ".spare", ".cache", ".lock", ".handouts", "report.json"}
"""What stands in the folder once a build is done; all else is a leftover."""


def publish(out: Path, name: str) -> None:
    """Publish one of the sites, as a build does: what is as before is taken over, of some files the bytes are given too.

    The former site counts as untouched, however short ago it was published.
    """
    kept = Objects(out / ".cache")
    trust(out)
    with hold_lock(out), stage(out, kept) as staging:
        for path, data in SITES[name].items():
            as_before = path.startswith("es/") and staging.standing.manifest.get(path) == (len(data), digest_of(data))
            if not (as_before and staging.take_over(path)):
                staging.write(path, data)
        swap_in(out, staging, f'{{"site": "{staging.digest}"}}\n'.encode())
    kept.drop_others(set(published_objects(out)))


def trust(out: Path) -> None:
    """Let the published site be verified an hour from now: what stands in it counts as untouched."""
    if (out / MARK).exists():
        os.utime(out / MARK, (time.time() + 3600, int(time.time()) + 3600))


def publish_back(out: Path) -> None:
    """Publish the previous site again, as ``build --back`` does."""
    with hold_lock(out):
        go_back(out)


def name_of(site: Path) -> str:
    """Which site stands in a folder, whole; ``none`` where there is none, else what is wrong with it."""
    if not site.exists():
        return "none"
    fault = find_damage(site)
    return fault or NAMES.get(site_digest(site), "a strange site")


def digest(pages: Pages) -> str:
    """The digest of a site's manifest, reckoned from its pages."""
    return digest_of(manifest_of({path: (len(data), digest_of(data)) for path, data in pages.items()}))


NAMES = {digest(pages): name for name, pages in SITES.items()}


class Scenario:
    """Sites published before, what is done then, and which sites may be found when it was cut off."""

    def __init__(self, before: tuple[str, ...], act: Callable[[Path], None], may: set[str], previous: str) -> None:
        self.before, self.act, self.may, self.previous = before, act, may, previous

    def prepare(self, out: Path) -> None:
        """The folder as it was before."""
        for name in self.before:
            publish(out, name)


SCENARIOS: Mapping[str, Scenario] = {
    "first": Scenario((), lambda out: publish(out, "new"), {"none", "new"}, "none"),
    "second": Scenario(("old",), lambda out: publish(out, "new"), {"old", "new"}, "old"),
    "third": Scenario(("older", "old"), lambda out: publish(out, "new"), {"old", "new"}, "old"),
    "fourth": Scenario(("oldest", "older", "old"), lambda out: publish(out, "new"), {"old", "new"}, "old"),
    "same": Scenario(("old", "new"), lambda out: publish(out, "new"), {"new"}, "old"),
    "back": Scenario(("new", "old"), publish_back, {"old", "new"}, "old"),
}


def count_steps(scenario: Scenario, out: Path, can_exchange: bool) -> int:
    """How many steps the act takes, the disk being sound."""
    scenario.prepare(out)
    layer = Layer(out, lambda *_: None, can_exchange=can_exchange)
    with layer.over():
        scenario.act(out)
    return layer.steps


def kill_before(scenario: Scenario, out: Path, number: int, can_exchange: bool) -> bool:
    """The act in a process of its own, killed before step ``number``; tells whether it came that far."""

    def watch(index: int, step: Step) -> None:
        if index == number:
            os.kill(os.getpid(), signal.SIGKILL)

    child = os.fork()
    if child == 0:
        try:
            with Layer(out, watch, can_exchange=can_exchange).over():
                scenario.act(out)
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


def faults_after(scenario: Scenario, out: Path, can_exchange: bool) -> list[str]:
    """What is wrong after the act was cut off, and after the next build; empty where all is well."""
    found = []
    site = name_of(out / "site") if out.exists() else "none"
    if not can_exchange and site == "none" and scenario.before:
        recover(out)  # two renames stand for one: between them there is no site until the next command
        site = name_of(out / "site")
    if site not in scenario.may:
        found.append(f"site: {site}")
    publish(out, "new")
    if name_of(out / "site") != "new":
        found.append(f"next build: {name_of(out / 'site')}")
    if name_of(out / ".previous") != scenario.previous:
        found.append(f"previous: {name_of(out / '.previous')}, not {scenario.previous}")
    left = {item.name for item in out.iterdir()} - LASTING
    return [*found, *(f"left over: {name}" for name in sorted(left))]


def files_of(site: Path) -> dict[str, bytes]:
    """Every file of a site but its manifest."""
    files = {path.relative_to(site).as_posix(): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()}
    return {path: data for path, data in files.items() if path != MANIFEST}


def memory() -> str | None:
    """A folder in memory where the system has one: flushing costs nothing there, and a kill does not lose it."""
    return next((folder for folder in ("/dev/shm",) if os.access(folder, os.W_OK)), None)
