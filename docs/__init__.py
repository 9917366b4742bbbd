"""The manual, and the program that writes its generated pages and checks the rest."""
