"""What is printed: a review as text, as a page, and later the papers of the animal room."""
