using System.Diagnostics;

namespace Magrail.Endurance;

/// <summary>Gives a reader damaged inputs, one after the other, and watches exceptions, time and memory.</summary>
internal static class Hunt
{
    // Reading the longest input takes milliseconds; a second is a hang even on a busy machine's slow day, so ten are given.
    private static readonly TimeSpan LongestTime = TimeSpan.FromSeconds(10);

    // What reading may allocate in all: something to begin with, and in proportion to the file.
    private const long MemoryToBegin = 64 << 20;
    private const long MemoryPerByte = 4096;

    /// <summary>How a hunt went.</summary>
    /// <param name="Inputs">How many inputs.</param>
    /// <param name="Read">How many of them were read as whole files.</param>
    /// <param name="Slowest">The longest time one took.</param>
    /// <param name="MostMemory">The most that reading one allocated, in bytes.</param>
    /// <param name="Finding">What was found, if anything; the hunt ends there.</param>
    public sealed record Report(long Inputs, long Read, TimeSpan Slowest, long MostMemory, Finding? Finding);

    /// <summary>Hunts.</summary>
    public static Report Run(FileReader reader, long first, long count, int seed)
    {
        var inputs = new DamagedInput(reader.Samples, seed);
        string folder = Directory.CreateTempSubdirectory().FullName;
        long current = first;
        long began = Stopwatch.GetTimestamp();
        Report? report = null;
        var hunter = new Thread(() => report = All()) { IsBackground = true };
        hunter.Start();

        // A hang is seen from outside: an input that is still the same after the longest time.
        while (!hunter.Join(200))
        {
            long number = Interlocked.Read(ref current);
            long since = Interlocked.Read(ref began);
            if (Stopwatch.GetElapsedTime(since) > LongestTime && Interlocked.Read(ref current) == number)
            {
                return new Report(number - first, 0, LongestTime, 0, new Finding(reader.Name, number, inputs.Make(number), $"took more than {LongestTime.TotalSeconds} s"));
            }
        }

        Directory.Delete(folder, recursive: true);
        return report!;

        Report All()
        {
            long read = 0, most = 0;
            TimeSpan slowest = TimeSpan.Zero;
            for (long number = first; number < first + count; number++)
            {
                byte[] input = inputs.Make(number);
                long start = Stopwatch.GetTimestamp();
                Interlocked.Exchange(ref began, start);
                Interlocked.Exchange(ref current, number);
                long before = GC.GetTotalAllocatedBytes();
                string? what = null;
                try
                {
                    reader.Read(input, folder);
                    read++;
                }
                catch (Exception fault)
                {
                    what = reader.MaySay(fault) ? null : $"{fault.GetType().Name}: {fault.Message}\n{fault.StackTrace}";
                }

                long memory = GC.GetTotalAllocatedBytes() - before;
                TimeSpan time = Stopwatch.GetElapsedTime(start);
                most = Math.Max(most, memory);
                slowest = time > slowest ? time : slowest;
                if (what is null && memory > MemoryToBegin + (MemoryPerByte * input.Length))
                {
                    what = $"allocated {memory >> 20} MB to read {input.Length} bytes";
                }

                if (what is not null)
                {
                    return new Report(number + 1 - first, read, slowest, most, new Finding(reader.Name, number, input, what));
                }
            }

            return new Report(count, read, slowest, most, null);
        }
    }
}
