"""Studs, tracks, arches and setting-out figures.

The greatest spacing is rounded down to whole links; the last bay of a piece takes what is left.

Heads and sills of openings are cut from the stud and laid flat; track is bought for top and bottom only. An arched head
takes bent track and bent bead from the kit. Its boards hang down to the spring line, and the arch is cut out of them
when they hang.
"""
