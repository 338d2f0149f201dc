"""Boards on faces: the layout, its independent check, plans near the optimum, and sheets shared over a job.

Boards are chosen at the day's prices among the sheet sizes that have a price. Waste is the material's share of the net;
what the layout leaves over, and the step up to whole sheets, is rounding.

Off-cuts are shared by layers, faces and walls of one job that carry the same board, hung the same way, in the same
sizes. Boards are never turned, and the two halves of a rake are not paired. At a kink each layer is laid out to its own
mitre, on the longer of its two surfaces; joints stay on the studs abreast of them.

`make bench` measures CPU time, here on a busy machine (two layers 9 ft high, two sheet sizes, 6 s, stop at 1 %):

| what | heuristic s | heuristic over bound | plan s | plan over bound |
|---|---|---|---|---|
| one face, 10 ft | 0.03 | 0.0 % | 0.8 | proven |
| one face, 20 ft | 0.05 | 5.1 % | 1.9 | 2.6 % |
| one face, 40 ft, two doors | 0.15 | 7.5 % | 5.0 | 2.5 % |
| one face, 60 ft, two doors (10 s) | 0.20 | 4.4 % | 6.3 | 2.1 % |
| both faces, 1 wall of 12 ft | 0.10 | 10.0 % | 2.7 | 4.8 % |
| both faces, 4 walls of 12 ft | 0.36 | 6.6 % | 6.8 | 5.3 % |
| both faces, 8 walls of 12 ft | 1.1 | 5.9 % | 7.5 | 4.8 % |

From some four walls on, the bound comes from the areas and is loose: the plan is better than its gap says.
"""
