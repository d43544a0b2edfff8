"""What its past care really was: diet, label, light, surroundings; each as findings."""
