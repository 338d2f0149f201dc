"""A wall standing: its solids turned towards the eye, what they hide of one another, their edges and their faces.

The eye is far away, so that parallels stay parallel: across is true to scale, heights are, and what lies farther back
stands higher on the paper by half its distance. In plan, x runs to the right of the paper and y away from the eye.
"""
