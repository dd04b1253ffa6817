"""The grammar of rigs and the tables made from it."""
