"""Radio links, who disturbs whom, and the plan of carriers and slots."""
