"""Costs, labour, overhead, allowances, options, tax, margin and payments.

Options are priced beside the base, which always stands. Alternates of one group carry the difference, and
`options.total_with` alone says what a choice comes to. An option that is a build is worked up whole.

Overhead and contingency are lines of cost, each worked out on the costs before either; the margin comes after them.

Allowances stand in the price as they are, at their own cost: the pricing policy does not touch them.

A deposit is part of the price: with instalments it is credited against them, from the first on.

Tax on materials only is charged on the part of the price that stands for materials.
"""
