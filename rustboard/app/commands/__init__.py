"""The commands, one module each: `add_arguments` says what it takes, `carry_out` does it.

None of them prints its result: they return an `outcome.Outcome`, which `printing` turns into text or JSON.
"""
