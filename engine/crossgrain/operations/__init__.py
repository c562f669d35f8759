"""Operations: one verb of the maker each, a pure function from a pattern to an outcome."""
