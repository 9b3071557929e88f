"""From the machine to what each position bears: loads, solution, axial paths, growth, lift."""
