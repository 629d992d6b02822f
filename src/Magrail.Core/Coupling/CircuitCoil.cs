namespace Magrail;

/// <summary>A coil of a circuit: its winding, the distance of its middle ahead of the sled's reference mark in m, and its sense, +1 or -1.</summary>
internal readonly record struct CircuitCoil(CoilSi Coil, double Offset, int Sense);
