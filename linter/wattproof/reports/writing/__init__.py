"""What all reports write with: tables, columns, words, signs."""
