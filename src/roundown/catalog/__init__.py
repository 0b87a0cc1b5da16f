"""Ships, aeroplane types and doctrines as data. Loaders are in `load`; phases import only `types`."""
