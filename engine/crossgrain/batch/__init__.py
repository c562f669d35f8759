"""A whole folder of drawings, each put through the same steps, on as many cores as there are.

:mod:`tasks` finds what is to be done and what is done already, :mod:`work` does one drawing in whatever process it is
called, :mod:`running` hands the work to an executor. What was done with a drawing stands in a :mod:`record` beside the
outputs, so that a run which was broken off goes on where it stopped.
"""
