"""The front door: Today, the job's page, history, audit, health, demo, and the API's urls. It may import every room.

The first steps end with the first quote, or with a second job. `first_steps` asks rows, and works the one job up only
once it is priced.
"""
