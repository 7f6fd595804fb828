"""The plan screen: treatments, question, layout, what it can prove, calendar, paper."""
