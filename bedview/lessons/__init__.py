"""Tasks on a bed to learn by: their files, their goals and how an answer is graded."""
