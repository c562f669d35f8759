"""The range of sizes: bodies, rules, named points, and a piece in another size."""
