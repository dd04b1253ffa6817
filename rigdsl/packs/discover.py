"""Where packs come from: what is installed, and files that a person names. Nothing is run that nobody asked for."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import replace
from importlib.metadata import EntryPoint, entry_points

from rigdsl.lint.words import one_line
from rigdsl.packs.faults import pack_faults
from rigdsl.packs.pack import Installed, Offer, Pack, Packs, Refused
from rigdsl.text import Source, normalised

__all__ = ["asked_for", "discover", "gear"]

GROUP = "rigdsl.packs"
HOME = "rigdsl"  # the distribution whose packs give their rules bare names


def discover(found: Iterable[EntryPoint] | None = None, files: Sequence[str] = ()) -> Packs:
    """Load and check rigdsl's own packs and those of files; other people's wait until somebody asks for them.

    They are looked for among the entry points of what is installed (or those given). A pack in a file that somebody
    named takes the place of an installed one of its name.
    """
    ours, theirs = _offers(entry_points(group=GROUP) if found is None else found)
    start = _loaded(Packs(), (*ours, *(_of_file(path) for path in files)))
    names = {item.pack.name for item in start.installed if item.named}
    return replace(start, waiting=tuple(offer for offer in theirs if offer.name not in names))


def asked_for(packs: Packs, names: Iterable[str]) -> Packs:
    """With those of the waiting packs loaded that go by these names: until then, nothing of them is run."""
    wanted = frozenset(names)
    offers = [offer for offer in packs.waiting if offer.name in wanted]
    if not offers:
        return packs
    return replace(_loaded(packs, offers), waiting=tuple(one for one in packs.waiting if one.name not in wanted))


def _loaded(packs: Packs, offers: Iterable[Offer]) -> Packs:
    """With the packs of these offers, each checked beside those that are there before it."""
    installed, refused = list(packs.installed), list(packs.refused)
    for offer in offers:
        try:
            pack = offer.load()
            faults = pack_faults(pack, offer.value, installed, ours=offer.ours)
            if not faults and not offer.named and isinstance(pack, Pack) and pack.name != offer.name:
                faults = [f"its entry point is called `{offer.name}` and the pack `{pack.name}`"]
        except (Exception, SystemExit) as error:  # a stranger's code may raise anything at all
            faults = [f"it cannot be loaded: {one_line(error)}"]
            pack = None
        if faults or not isinstance(pack, Pack):
            refused.append(Refused(offer.name, offer.version, "; ".join(faults)))
        else:
            installed.append(Installed(pack, offer.version, offer.named, offer.ours))
    by_name = sorted(installed, key=lambda item: item.pack.name)
    return replace(packs, installed=tuple(by_name), refused=tuple(sorted(refused, key=lambda item: item.name)))


def gear(package: str) -> tuple[Source, ...]:
    """The gear that lies in a package: every `.rig` file of it, by name, for `Pack(libraries=...)`."""
    from importlib.resources import files

    found = sorted((item for item in files(package).iterdir() if item.name.endswith(".rig")), key=lambda one: one.name)
    return tuple(Source(f"{package}/{item.name}", normalised(item.read_text("utf-8"))) for item in found)


def _offers(points: Iterable[EntryPoint]) -> tuple[list[Offer], list[Offer]]:
    """Our own and the others', by name. A distribution's metadata is slow to read, and read once for all its packs."""
    known: dict[int, tuple[str, bool]] = {}
    offers = []
    for point in points:
        dist = point.dist
        if dist is not None and id(dist) not in known:
            metadata = dist.metadata
            known[id(dist)] = metadata["Version"], metadata["Name"] == HOME
        version, ours = known[id(dist)] if dist is not None else ("", False)
        offers.append(Offer(point.name, version, ours, point.value, point.load))
    offers.sort(key=lambda offer: offer.name)
    return [offer for offer in offers if offer.ours], [offer for offer in offers if not offer.ours]


def _of_file(path: str) -> Offer:
    """The pack of a file, which is run: a module, or the `__init__.py` of a package."""

    def load() -> object:
        import sys
        from importlib.util import module_from_spec, spec_from_file_location

        folder, base = os.path.split(os.path.abspath(path))
        package = base == "__init__.py"
        name = os.path.basename(folder) if package else base.removesuffix(".py")
        if not package or name in sys.modules:  # a folder may be called as something that others have imported
            name = f"rigdsl_file_{name}"
        spec = spec_from_file_location(name, path, submodule_search_locations=[folder] if package else None)
        if spec is None or spec.loader is None:
            raise ImportError("no Python file")
        module = sys.modules[name] = module_from_spec(spec)  # where its own parts and dataclasses look for it
        spec.loader.exec_module(module)
        return module.pack

    return Offer(path, "", False, f"{path}:pack", load, named=True)
