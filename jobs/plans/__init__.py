"""Better cutting plans for boards and sticks: asked for, searched for in the background, chosen by name.

A better plan is asked for, chosen by a named person, and used only for the job it was made for. The errands
`plan_boards` and `plan_sticks` look for it. The plan is stored in words of the trade (joints along the wall, boards on
sheets, pieces on sticks) with a mark over everything it rests on. A chosen plan is part of the job's document, so that
`work_up` stays pure, and an issued quote freezes it. When the mark has changed, or the independent check objects, the
quick plan takes its place and a caution says so.
"""
