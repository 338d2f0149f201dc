"""The money of a job: quoted, until now, committed, still to go; where the margin went; what is earned.

Every figure is worked out from rows when it is read; stored are only what was quoted, frozen when it was accepted, and
what a person says is still to go. No row of another room is changed here.
"""
