"""What a project sets: `rig.toml` and the list of known findings beside it. Data, and never code to run."""

from rigdsl.config.config import Block, Config
from rigdsl.config.keys import FILE, KNOWN_FILE
from rigdsl.config.known_file import known_text
from rigdsl.config.read import config_of

__all__ = ["FILE", "KNOWN_FILE", "Block", "Config", "config_of", "known_text"]
