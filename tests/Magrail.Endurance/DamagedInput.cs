using System.Buffers.Binary;
using System.Text;

namespace Magrail.Endurance;

/// <summary>Makes damaged files out of whole ones: flipped bits, lost and repeated parts, numbers that are none, lengths that lie, two files grown together.</summary>
/// <remarks>The n-th input of a seed is always the same, so that a finding is repeated by its number.</remarks>
internal sealed class DamagedInput(IReadOnlyList<byte[]> samples, int seed)
{
    private const int LongestInput = 1 << 16;

    private static readonly byte[][] Words =
    [
        .. new[]
        {
            "NaN", "-Infinity", "1e999", "-0", "1e-320", "9999999999999999999999", "-1", "2147483648", "0x10", "1.2.3", "", " ", "\n", "\r\n", "\r", "\"", "\"\"", ",", ";", "\t", "#", "[", "]", "{", "}",
            "[m]", "time [s]", "x [px]", "frame", "sep=|", "\u0000", "\uFEFF", "µ", "null", "true", "\\u0000", "not launched", "PAR1", "# study ", " of ", "cells", "source",
        }.Select(Encoding.UTF8.GetBytes),
        [0xFF], [0xFF, 0xFE], [0xC3, 0x28], [0xF0, 0x9F], [0xED, 0xA0, 0x80],
    ];

    private static readonly long[] Lengths = [0, 1, -1, 127, 128, 255, 256, 32767, 65535, 65536, int.MaxValue, int.MinValue, uint.MaxValue, long.MaxValue, long.MinValue];

    /// <summary>The input of a number, from 0.</summary>
    public byte[] Make(long number)
    {
        var random = new Random(HashCode(seed, number));
        if (random.Next(50) == 0)
        {
            byte[] noise = new byte[random.Next(300)];
            random.NextBytes(noise);
            return noise;
        }

        var bytes = new List<byte>(Sample(random));
        for (int changes = 1 + random.Next(random.Next(2) == 0 ? 2 : 12); changes > 0; changes--)
        {
            Change(bytes, random);
            if (bytes.Count > LongestInput)
            {
                bytes.RemoveRange(LongestInput, bytes.Count - LongestInput);
            }
        }

        return [.. bytes];
    }

    // The runtime's own hash differs from run to run.
    private static int HashCode(int seed, long number) => unchecked((int)((ulong)((number + 1) * 6364136223846793005L + seed * 1442695040888963407L) >> 33));

    private byte[] Sample(Random random) => samples[random.Next(samples.Count)];

    private void Change(List<byte> bytes, Random random)
    {
        int at = random.Next(bytes.Count + 1);
        int length = Math.Min(bytes.Count - at, random.Next(random.Next(2) == 0 ? 4 : 400));
        switch (random.Next(10))
        {
            case 0 when at < bytes.Count:
                bytes[at] ^= (byte)(1 << random.Next(8));
                break;
            case 1 when at < bytes.Count:
                bytes[at] = (byte)random.Next(256);
                break;
            case 2:
                bytes.RemoveRange(at, length);
                break;
            case 3:
                bytes.RemoveRange(at, bytes.Count - at);
                break;
            case 4:
                bytes.InsertRange(at, Words[random.Next(Words.Length)]);
                break;
            case 5:
                bytes.RemoveRange(at, length);
                bytes.InsertRange(at, Words[random.Next(Words.Length)]);
                break;
            case 6:
                List<byte> part = bytes.GetRange(at, length);
                for (int times = random.Next(random.Next(4) == 0 ? 60 : 3); times >= 0; times--)
                {
                    bytes.InsertRange(at, part);
                }

                break;
            case 7:
                byte[] other = Sample(random);
                int from = random.Next(other.Length);
                bytes.RemoveRange(at, length);
                bytes.InsertRange(at, other[from..Math.Min(other.Length, from + random.Next(other.Length))]);
                break;
            case 8:
                byte[] number = new byte[8];
                BinaryPrimitives.WriteInt64LittleEndian(number, Lengths[random.Next(Lengths.Length)]);
                int width = Math.Min(1 << random.Next(4), bytes.Count - at);
                for (int i = 0; i < width; i++)
                {
                    bytes[at + i] = number[i];
                }

                break;
            default:
                // One number of a text in place of another.
                if (at < bytes.Count && char.IsAsciiDigit((char)bytes[at]))
                {
                    int end = at;
                    while (end < bytes.Count && (char.IsAsciiDigit((char)bytes[end]) || bytes[end] is (byte)'.' or (byte)'E' or (byte)'-'))
                    {
                        end++;
                    }

                    bytes.RemoveRange(at, end - at);
                    bytes.InsertRange(at, Words[random.Next(10)]);
                }

                break;
        }
    }
}
