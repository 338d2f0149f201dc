"""Job files in and out, and the command `work_up`.

The firm in a job file does not replace the stored firm. An import takes client, job, walls and pricing, and adds
materials and suppliers that the catalog lacks.
"""
