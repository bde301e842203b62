"""What stands beside every plan and on every practice sheet."""

RULES_LIMIT = (
    "In a round the Rules of Golf limit devices and advice: check the current Rules and local "
    "rules."
)
RULES = f"Prepare before play. {RULES_LIMIT}"
"""What stands on whatever may be taken to the course."""

PRIVATE = "A player's data are private: ask before you share this page."

NOT_THE_SCORE_CARD = "Not the score card that you sign."
NO_HOLD_UP = "Write on the way to the next tee, not on the green; never hold up play."
"""What stands on a card to write on during a round, beside ``RULES_LIMIT``."""

ASSUMPTIONS = "Assumptions, not promises."

CAUTIONS = (
    "Warm up before the first ball. Build up over weeks, not in one; rest days count.",
    "Stop on pain in wrist, elbow or back. See a physiotherapist, and for technique a licensed "
    "teaching professional.",
    "Hard mats and long bunker sessions load wrist and elbow: keep their share small.",
    "Juniors: under supervision, with fewer balls and more rest.",
    "Keep to the range's safety rules. On the course only with permission, with nobody ahead, and "
    "never in lightning.",
)

CAUTION = "Build up slowly, stop on pain; all cautions: sheet and page."
"""What stands of them under a plan in the terminal."""

SCHEDULE = "Random order is a habit of this sheet; published effects of it are mixed and small."

WEAR = (
    "A worn wedge, the season, the ball and the turf change together: this cannot tell them apart."
)
CLUB_ADVICE = (
    "Do not recut grooves yourself; check that a club conforms before a competition; have clubs "
    "fitted by a professional."
)
