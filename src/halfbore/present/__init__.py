"""Numbers, words, drawings and charts as plain records: made once, shown anywhere."""
