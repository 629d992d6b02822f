using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

public sealed class AlignedRowsTests
{
    /// <summary>Whatever the array's own place, the first row begins a line of 64 bytes; rows hold what is written, and follow each other.</summary>
    [Fact]
    public void Every_row_is_a_line()
    {
        // Arrays of odd lengths lie at eight bytes past a line, at sixteen, and so on.
        List<AlignedRows> kept = [];
        for (int count = 1; count <= 40; count++)
        {
            GC.KeepAlive(GC.AllocateArray<byte>(8 * (count % 7), pinned: true));
            var rows = new AlignedRows(count);
            kept.Add(rows);
            Assert.Equal(0, PlaceOf(ref rows[0]) % 64);
            for (int i = 0; i < count; i++)
            {
                Assert.Equal(Vector512<double>.Zero, rows[i]);
                rows[i] = Vector512.Create((100.0 * count) + i);
            }
        }

        GC.Collect();
        foreach (AlignedRows rows in kept)
        {
            int count = kept.IndexOf(rows) + 1;
            Assert.Equal(0, PlaceOf(ref rows[0]) % 64);
            Assert.Equal([.. Enumerable.Range(0, count).Select(i => Vector512.Create((100.0 * count) + i))], rows.Span(0, count).ToArray());
            Assert.Equal(64, Unsafe.ByteOffset(ref rows[0], ref rows[1]));
        }
    }

    /// <summary>Rows need room for themselves and for what is left out before the first line, up to seven numbers.</summary>
    [Fact]
    public void There_is_room_wherever_the_first_line_begins()
    {
        GC.KeepAlive(new AlignedRows(1));
        long before = GC.GetAllocatedBytesForCurrentThread();
        var rows = new AlignedRows(5000);
        long taken = GC.GetAllocatedBytesForCurrentThread() - before;
        GC.KeepAlive(rows);
        Assert.InRange(taken, (64 * 5000) + 56, (64 * 5000) + 2048);
    }

    private static nint PlaceOf(ref Vector512<double> row) => Unsafe.ByteOffset(ref Unsafe.NullRef<byte>(), ref Unsafe.As<Vector512<double>, byte>(ref row));
}
