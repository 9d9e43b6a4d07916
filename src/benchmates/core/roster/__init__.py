"""Who is in the room: pupils, class lists, musts, who has worked with whom."""
