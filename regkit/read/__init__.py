"""Reading: the only room that opens files. YAML and JSON become rulesets and cases, or one error
that lists everything that is wrong with them, each with file, line and what would be right.
"""
