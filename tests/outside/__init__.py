"""What leaves the program, judged by programs and numbers that are not the program."""
