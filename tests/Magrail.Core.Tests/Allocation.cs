namespace Magrail.Tests;

/// <summary>Bytes that an action allocates on its own thread.</summary>
internal static class Allocation
{
    /// <summary>
    /// The least of several repetitions: a collection that another test starts meanwhile retires this thread's allocation
    /// buffer and counts its rest as allocated. An action that allocates does so every time.
    /// </summary>
    public static long LeastOf(Action action)
    {
        long least = long.MaxValue;
        for (int i = 0; i < 8 && least > 0; i++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            action();
            least = Math.Min(least, GC.GetAllocatedBytesForCurrentThread() - before);
        }

        return least;
    }
}
