"""What type a source is of, guessed from the words of its row; words of the trade alone, no maker's."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

__all__ = ["NOTHING_SAID", "Guess", "guessed"]


@dataclass(frozen=True)
class Guess:
    """A type, and what it was guessed from: nothing where the list itself says it."""

    type: str
    because: str

    @property
    def remark(self) -> str:
        """What the rig says of it, so that a person looks at it once."""
        caution = "; phantom can ruin a passive ribbon" if self.type == "ribbon" else ""
        return f"# guessed: {self.type}, {self.because}{caution}" if self.because else ""


# A field that says a type and nothing else.
SAID = {
    "dynamic": "dynamic",
    "dyn": "dynamic",
    "condenser": "condenser",
    "cond": "condenser",
    "ribbon": "ribbon",
    "di": "di",
    "d i": "di",
    "di box": "di",
    "passive di": "di",
    "active di": "active-di",
    "di active": "active-di",
    "line": "line",
    "line level": "line",
    "instrument": "instrument",
    "wireless": "wireless",
    "radio": "wireless",
    "playback": "playback",
    "talkback": "talkback",
}
# Equipment, told by whatever row it stands in; the first group that fits counts.
EQUIPMENT: tuple[tuple[str, str], ...] = (
    ("talkback", "talkback, talk back, talk, tb, shout"),
    ("di", "sample pad, drum pad"),
    (
        "playback",
        "playback, play back, backing track, track, click, laptop, computer, sampler, sample, audio interface",
    ),
    ("wireless", "wireless, radio, radio mic, rf, headset, lavalier, lav, beltpack, bodypack, pocket transmitter"),
    ("ribbon", "ribbon"),
    ("active-di", "active di, di active, active d i, d i active"),
    ("di", "di, d i, di box, dibox, pickup, trigger"),
    ("condenser", "condenser, cond, sdc, ldc, electret, overhead, oh, boundary, shotgun"),
    ("dynamic", "dynamic, dyn, amp, cab, cabinet"),
    ("line", "line, line level, line in, dj, dj mixer, fx return, mixer"),
    ("instrument", "hi z, high z"),
)
# What is played, from the name alone. Common practice, no source.
PLAYED: tuple[tuple[str, str], ...] = (
    ("condenser", "choir, audience, ambient, ambience, ambi, room, crowd, applause"),
    ("dynamic", "vox, vocal, voc, voice, bv, bvox, singer, singing, mc, speech, host, announcer"),
    ("dynamic", "bass drum, kick, bd, kik, snare, snr, sn, tom, floor, rack, conga, bongo, timbale, cajon, djembe"),
    ("condenser", "hi hat, hihat, hat, hh, ride, crash, cymbal, shaker, percussion, perc, glockenspiel, vibraphone"),
    ("condenser", "grand piano, upright piano, grand, violin, viola, cello, fiddle, string, flute, clarinet, oboe"),
    ("condenser", "accordion, harp, banjo, mandolin"),
    ("di", "acoustic guitar, acoustic gtr, acoustic, ac gtr, ac, agtr, ukulele, uke"),
    ("di", "double bass, upright bass, bass, keyboard, keys, key, piano, synth, organ, pad, drum machine"),
    ("playback", "music, intro, video, media, usb, cue"),
    ("dynamic", "guitar, gtr, egtr, sax, saxophone, trumpet, tpt, trombone, tbn, horn, brass, tuba, harmonica, drum"),
)
NOTHING_SAID = "nothing in the row says more"


def guessed(name: str, mic: str, type_: str, phantom: bool | None) -> Guess:
    """The type of a row's source: said, else guessed from the mic and then from the name."""
    said = SAID.get(_spelled(type_)) or SAID.get(_spelled(mic))
    if said:
        return Guess(said, "")
    for table, text in ((EQUIPMENT, type_), (EQUIPMENT, mic), (EQUIPMENT, name), (PLAYED, name), (PLAYED, mic)):
        if hit := _first(table, text):
            return _with_phantom(hit[0], f'from "{hit[1]}"', phantom)
    return _with_phantom("dynamic", NOTHING_SAID, phantom)


def _with_phantom(type_: str, because: str, phantom: bool | None) -> Guess:
    """What is to have phantom is of a type that needs it, as far as it is a guess at all."""
    needing = {"di": "active-di", "dynamic": "condenser"}.get(type_)
    if phantom and needing:
        word = "" if because == NOTHING_SAID else f"{because} and "
        return Guess(needing, f"{word or 'from '}its phantom")
    return Guess(type_, because)


def _first(table: tuple[tuple[str, str], ...], text: str) -> tuple[str, str] | None:
    """The first type of a table one of whose words stands in the text, and that word."""
    said = f" {' '.join(_words(text))} "
    for type_, phrases in table:
        for phrase in phrases.split(", "):
            if f" {phrase} " in said:
                return type_, phrase
    return None


def _spelled(text: str) -> str:
    return " ".join(_parts(text))


def _words(text: str) -> list[str]:
    """The words of a text, without numbers and plurals: "OHs 2" has `oh`, "Vox2" has `vox`."""
    bare = [part.rstrip("0123456789") for part in _parts(text)]
    return [_single(word) for word in bare if word]


def _parts(text: str) -> list[str]:
    apart = unicodedata.normalize("NFKD", text).casefold()
    return re.findall(r"[^\W_]+", "".join(char for char in apart if not unicodedata.combining(char)))


def _single(word: str) -> str:
    plural = len(word) > 2 and word.endswith("s") and not word.endswith("ss") and word != "keys"
    return word[:-1] if plural else word
