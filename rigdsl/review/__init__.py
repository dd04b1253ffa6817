"""What a change of a rig means: the things that changed, and what follows from it on the night."""

from rigdsl.review.changes import Change
from rigdsl.review.review import Review, Total, review

__all__ = ["Change", "Review", "Total", "review"]
