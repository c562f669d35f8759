"""Where lines meet: crossings and contacts, nearest points, sections, and ways until something is met."""
