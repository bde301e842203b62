"""Every sentence a person can read, at the terminal or in a report: facts in, words out."""
