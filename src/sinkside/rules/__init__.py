"""The rule table, findings, and the algebra of verdicts."""
