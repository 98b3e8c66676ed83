"""A repair workshop's spoken notes, turned into a job record and an illustrated repair story."""
