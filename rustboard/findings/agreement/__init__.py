"""How well grades agree: a grader with himself, graders with one another, and the eye with the photo."""
