"""What the firm has of its own: on the shelf, or set aside for a job.

A row is of one owner: the shelf, or one job. What is set aside is moved from row to row with both held, so that no
piece is promised twice. A job is charged what was stated for one piece.
"""
