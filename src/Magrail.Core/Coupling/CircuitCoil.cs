namespace Magrail;

/// <summary>A coil of a circuit.</summary>
/// <param name="Coil">The coil as the field kernels see it.</param>
/// <param name="Offset">Its middle ahead of the sled's reference mark, m.</param>
/// <param name="Sense">+1, or -1 where its terminals are exchanged.</param>
internal readonly record struct CircuitCoil(CoilSi Coil, double Offset, int Sense)
{
    public CircuitCoil(Coil coil, double offset, int sense)
        : this(coil.ToSi(), offset, sense)
    {
    }
}
