"""Who somebody is: password, PIN and card, devices, waits after wrong tries, signatures."""
