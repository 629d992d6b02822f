using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Magrail.Numerics;

/// <summary>Rows of eight numbers, each on a cache line of its own: a vector that lies across two lines costs twice.</summary>
internal sealed class AlignedRows
{
    private const int Line = 64;
    private readonly double[] block;
    private readonly nint offset;

    /// <summary>Rows of zeros.</summary>
    /// <param name="count">How many.</param>
    public AlignedRows(int count)
    {
        // Pinned, so that it stays where it is aligned.
        block = GC.AllocateArray<double>((count + 1) * Vector512<double>.Count, pinned: true);
        offset = -Marshal.UnsafeAddrOfPinnedArrayElement(block, 0) & (Line - 1);
    }

    /// <summary>A row.</summary>
    /// <param name="row">Which, from 0; not checked.</param>
    public ref Vector512<double> this[int row]
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => ref Unsafe.Add(ref Unsafe.As<double, Vector512<double>>(ref Unsafe.AddByteOffset(ref MemoryMarshal.GetArrayDataReference(block), offset)), row);
    }

    /// <summary>Rows one after the other.</summary>
    /// <param name="row">The first, from 0; not checked.</param>
    /// <param name="count">How many.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Span<Vector512<double>> Span(int row, int count) => MemoryMarshal.CreateSpan(ref this[row], count);
}
