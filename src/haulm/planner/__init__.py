"""The mixed-integer plan: question, rules, solving, answer and independent audit."""
