"""The life of a job: from stored facts with their days to where it stands, what is next, who does it and by when.

Facts never say what only the day changes: late, expired and due soon are worked out when somebody reads.
"""
