"""What holds of every merge, whatever two people did to a rig."""

from __future__ import annotations

from hypothesis import example, given, settings

from rigdsl.branches import by_lines, merged
from tests.branches.made import BASE, git_merge, said, sides

BASS = 'source bass "Bass" active-di in stage to SL.mic 4\n'


@given(sides)
@settings(max_examples=60)
def test_what_one_side_changed_is_the_merge(side: str) -> None:
    for three in ((BASE, side, BASE), (BASE, BASE, side), (BASE, side, side), (side, side, side)):
        done = merged(*three)
        assert done is not None
        assert (done.text(), done.clashes) == (side, ())


@given(sides, sides)
@settings(max_examples=150)
def test_it_can_be_read_and_means_the_same_from_either_side(ours: str, theirs: str) -> None:
    done, turned = merged(BASE, ours, theirs), merged(BASE, theirs, ours)
    assert (done is None) == (turned is None)
    if done is None or turned is None:
        return
    assert bool(done.clashes) == bool(turned.clashes)
    if not done.clashes:
        assert said(done.text()) == said(turned.text())


@given(sides, sides)
@settings(max_examples=150)
@example(BASE.replace(BASS, ""), BASS.replace("4", "5") + BASE.replace(BASS, ""))
@example(BASE.replace(BASS, ""), BASS + BASE.replace(BASS, ""))
def test_where_lines_do_not_clash_it_means_what_git_makes_of_them(ours: str, theirs: str) -> None:
    """But for what one side takes away and the other only moves: to git it is a new line, here it is gone.

    And for two clashes that are none to git: what one side takes away and the other moves and changes, and one name
    that both give to different things.
    """
    lines = git_merge(BASE, ours, theirs)
    if lines is None:
        return
    done = merged(BASE, ours, theirs)
    if done is None or done.clashes:
        assert done is None or not by_lines(done, lines, ours, theirs)
        return
    both = set(said(ours).splitlines()) & set(said(theirs).splitlines())
    one_took_away = set(said(BASE).splitlines()) - both
    here, by_git = set(said(done.text()).splitlines()), set(said(lines).splitlines())
    assert here <= by_git
    assert by_git - here <= one_took_away
    if not moved_and_gone(ours, theirs):
        assert here == by_git


def moved_and_gone(ours: str, theirs: str) -> bool:
    """Whether a line of the base stands at another place on one side, and is not there at all on the other."""
    base = BASE.splitlines()

    def moved(side: str) -> set[str]:
        lines = [line for line in side.splitlines() if base.count(line) == 1]
        kept = [line for line in base if line in lines]
        return {line for line, other in zip(lines, kept, strict=False) if line != other}

    def gone(side: str) -> set[str]:
        return set(base) - set(side.splitlines())

    return bool(moved(ours) & gone(theirs) or moved(theirs) & gone(ours))


def test_a_long_list_is_merged_at_once() -> None:
    size = 3000
    lines = [f'source s{number} "Source {number}" dynamic\n' for number in range(size)]
    ours = [line + ('source a "A" di\n' if number == 7 else "") for number, line in enumerate(lines)]
    theirs = [line.replace("dynamic", "condenser") if number % 50 == 0 else line for number, line in enumerate(lines)]
    done = merged("".join(lines), "".join(ours), "".join(theirs))
    assert done is not None
    assert done.clashes == ()
    assert done.text().count("condenser") == size // 50
    assert 'source a "A" di\n' in done.text()
