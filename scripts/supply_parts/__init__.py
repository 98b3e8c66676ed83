"""What the program is made of that others wrote: licences, and a bill of materials."""
