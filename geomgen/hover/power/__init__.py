"""From a pack to a thrust at the blade's tip: ducted fans in moving air, controllers, wires, packs."""
