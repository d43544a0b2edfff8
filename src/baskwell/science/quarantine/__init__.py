"""May it leave quarantine: gates, freedom from each agent, and how to keep it apart."""
