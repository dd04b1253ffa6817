"""The open standards, written in the rig language itself."""
