"""What closed jobs teach: standards suggested from the firm's own record, accepted by the owner.

A job's hours are set beside what today's standards give on the quantities agreed with the client: the walls as
accepted, with the signed notes that were worked out from walls. Hours tagged rework, late or unforeseen, and those of
notes priced by hand, count for no standard. Nothing of this is stored: what was agreed is remembered by the hash of
what it rests on, and all else is read anew, so that after a standard is accepted the next suggestions follow from it.
"""
