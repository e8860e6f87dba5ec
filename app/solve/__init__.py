"""From a mount to where it stands: equations by topology, assembly, pose and sensitivities."""
