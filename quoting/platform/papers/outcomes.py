"""The ways a renderer can end, as exit codes shared by both sides of the seal."""

BAD_INPUT = 70
OUT_OF_MEMORY = 71
REFUSED_URL = 72
TOO_LONG = 73
WRONG_HTML = 74
