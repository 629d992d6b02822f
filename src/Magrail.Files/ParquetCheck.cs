using System.Buffers.Binary;

namespace Magrail.Files;

/// <summary>
/// Looks through the footer and the heads of the pages of a Parquet file before they are read: that each field is of its type, and that no text, list or page claims to be longer than what is left. The reader below
/// trusts all that, and makes room for what is claimed before it looks for it, up to two gigabytes for a flipped bit.
/// </summary>
/// <remarks>
/// Sources: Apache Parquet format, "File format" (the footer, its length, the mark PAR1) and parquet.thrift (the fields, from memory; those that are not named here are passed over); Apache Thrift, "Thrift compact
/// protocol encoding"; Snappy format description, "Preamble".
/// </remarks>
internal ref struct ParquetCheck
{
    private const int MostNested = 32;

    // Types of the compact protocol.
    private const int True = 1, False = 2, Byte = 3, Short = 4, Int = 5, Long = 6, Double = 7, Binary = 8, List = 9, Set = 10, Map = 11, Struct = 12;

    private static readonly Kind Truth = new(True), Small = new(Byte), Ordinal = new(Short), Whole = new(Int), Big = new(Long), Text = new(Binary), Empty = Kind.Of();

    private static readonly Kind Unit = Kind.Of((1, Empty), (2, Empty), (3, Empty));

    private static readonly Kind LogicalType = Kind.Of(
        (1, Empty), (2, Empty), (3, Empty), (4, Empty), (5, Kind.Of((1, Whole), (2, Whole))), (6, Empty), (7, Kind.Of((1, Truth), (2, Unit))), (8, Kind.Of((1, Truth), (2, Unit))),
        (10, Kind.Of((1, Small), (2, Truth))), (11, Empty), (12, Empty), (13, Empty), (14, Empty), (15, Empty), (16, Kind.Of((1, Small))), (17, Kind.Of((1, Text))), (18, Kind.Of((1, Text), (2, Whole))));

    private static readonly Kind SchemaElement = Kind.Of(
        (1, Whole), (2, Whole), (3, Whole), (4, Text), (5, Whole), (6, Whole), (7, Whole), (8, Whole), (9, Whole), (10, LogicalType));

    private static readonly Kind KeyValue = Kind.Of((1, Text), (2, Text));

    private static readonly Kind Statistics = Kind.Of((1, Text), (2, Text), (3, Big), (4, Big), (5, Text), (6, Text), (7, Truth), (8, Truth));

    private static readonly Kind SizeStatistics = Kind.Of((1, Big), (2, Big.Listed()), (3, Big.Listed()));

    private static readonly Kind ColumnMetaData = Kind.Of(
        (1, Whole), (2, Whole.Listed()), (3, Text.Listed()), (4, Whole), (5, Big), (6, Big), (7, Big), (8, KeyValue.Listed()), (9, Big), (10, Big), (11, Big), (12, Statistics),
        (13, Kind.Of((1, Whole), (2, Whole), (3, Whole)).Listed()), (14, Big), (15, Whole), (16, SizeStatistics));

    private static readonly Kind ColumnCrypto = Kind.Of((1, Empty), (2, Kind.Of((1, Text.Listed()), (2, Text))));

    private static readonly Kind ColumnChunk = Kind.Of((1, Text), (2, Big), (3, ColumnMetaData), (4, Big), (5, Whole), (6, Big), (7, Whole), (8, ColumnCrypto), (9, Text));

    private static readonly Kind RowGroup = Kind.Of(
        (1, ColumnChunk.Listed()), (2, Big), (3, Big), (4, Kind.Of((1, Whole), (2, Truth), (3, Truth)).Listed()), (5, Big), (6, Big), (7, Ordinal));

    private static readonly Kind Cipher = Kind.Of((1, Text), (2, Text), (3, Truth));

    private static readonly Kind FileMetaData = Kind.Of(
        (1, Whole), (2, SchemaElement.Listed()), (3, Big), (4, RowGroup.Listed()), (5, KeyValue.Listed()), (6, Text), (7, Kind.Of((1, Empty)).Listed()), (8, Kind.Of((1, Cipher), (2, Cipher))), (9, Text));

    private static readonly Kind PageHeader = Kind.Of(
        (1, Whole), (2, Whole), (3, Whole), (4, Whole), (5, Kind.Of((1, Whole), (2, Whole), (3, Whole), (4, Whole), (5, Statistics))), (6, Empty), (7, Kind.Of((1, Whole), (2, Whole), (3, Truth))),
        (8, Kind.Of((1, Whole), (2, Whole), (3, Whole), (4, Whole), (5, Whole), (6, Whole), (7, Truth), (8, Statistics))));

    // A page of one value again and again shrinks to a thousandth and less.
    private const long PageToBegin = 1 << 20;
    private const long MostExpansion = 4096;
    private const long LongestNumber = 16;

    private const int DataPageV2 = 3;

    // Heads of pages are some tens of bytes long, more where their least and greatest values are long texts.
    private const int LongestHead = 1 << 16;

    private ReadOnlySpan<byte> rest;
    private long page, uncompressed, compressed, values, dictionary;

    /// <summary>Looks at the heads of the pages of a column, and puts the stream back to where it was.</summary>
    /// <param name="stream">The file.</param>
    /// <param name="offset">Where its first page begins.</param>
    /// <param name="count">How many values it has.</param>
    /// <param name="isSnappy">Whether its pages are packed by Snappy.</param>
    /// <exception cref="StudyFileException">A page claims more than there is.</exception>
    public static void CheckPages(Stream stream, long offset, long count, bool isSnappy)
    {
        long back = stream.Position;
        byte[] head = new byte[Math.Min(LongestHead, stream.Length)];
        for (long seen = 0; seen < count;)
        {
            if (offset < 0 || offset >= stream.Length)
            {
                throw Damaged();
            }

            stream.Seek(offset, SeekOrigin.Begin);
            int length = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
            // What every page has, until it is found.
            var walk = new ParquetCheck { rest = head.AsSpan(0, length), page = -1, uncompressed = -1, compressed = -1 };
            walk.Pass(Struct, PageHeader, 0);
            if (walk.page < 0 || walk.compressed is < 0 or > int.MaxValue || walk.uncompressed < 0 || walk.values < 0 || walk.values > count - seen || walk.dictionary < 0 || walk.dictionary > count
                || walk.uncompressed > PageToBegin + Math.Max(MostExpansion * walk.compressed, LongestNumber * walk.values))
            {
                throw Damaged();
            }

            offset += length - walk.rest.Length + walk.compressed;
            seen += walk.values;
            if (offset > stream.Length)
            {
                throw Damaged();
            }

            // Snappy's own block begins with its length once more. A data page of the second version has its levels before the block.
            if (isSnappy && walk.page != DataPageV2 && walk.compressed > 0 && walk.Number() != (ulong)walk.uncompressed)
            {
                throw Damaged();
            }
        }

        stream.Seek(back, SeekOrigin.Begin);
    }

    /// <summary>Looks through the footer of a stream, and puts the stream back to its beginning.</summary>
    /// <exception cref="StudyFileException">It is no Parquet, or damaged.</exception>
    public static void Check(Stream stream)
    {
        Span<byte> end = stackalloc byte[8];
        if (stream.Length < 12)
        {
            throw new StudyFileException("the file is too short to be Parquet.");
        }

        stream.Seek(-8, SeekOrigin.End);
        stream.ReadExactly(end);
        long length = BinaryPrimitives.ReadUInt32LittleEndian(end);
        if (!end[4..].SequenceEqual("PAR1"u8) || length > stream.Length - 12)
        {
            throw new StudyFileException("the file is no Parquet, or is cut off.");
        }

        byte[] footer = new byte[length];
        stream.Seek(-8 - length, SeekOrigin.End);
        stream.ReadExactly(footer);
        stream.Seek(0, SeekOrigin.Begin);
        var walk = new ParquetCheck { rest = footer };
        walk.Pass(Struct, FileMetaData, 0);
    }

    private static StudyFileException Damaged() => new("the file is damaged: it does not hold what it claims.");

    /// <summary>Passes over a value of a type that stands in the file, and of a kind that is known or not.</summary>
    private void Pass(int type, Kind? kind, int depth)
    {
        if (depth > MostNested || (kind is not null && kind.Type != (type == False ? True : type)))
        {
            throw Damaged();
        }

        switch (type)
        {
            case True or False:
                break;
            case Byte:
                Skip(1);
                break;
            case Short or Int or Long:
                Number();
                break;
            case Double:
                Skip(8);
                break;
            case Binary:
                Skip(Number());
                break;
            case List or Set:
                PassList(kind, depth);
                break;
            case Struct:
                PassFields(kind, depth);
                break;
            case Map:
                ulong pairs = Number();
                int types = pairs == 0 ? 0 : Take();
                for (Within(pairs); pairs > 0; pairs--)
                {
                    Pass(types >> 4, null, depth + 1);
                    Pass(types & 15, null, depth + 1);
                }

                break;
            default:
                throw Damaged();
        }
    }

    private void PassFields(Kind? kind, int depth)
    {
        int number = 0;
        for (int field = Take(); field != 0; field = Take())
        {
            // A field's number is a step from that before, or stands by itself, zigzag.
            if (field >> 4 == 0)
            {
                ulong zigzag = Number();
                number = zigzag <= ushort.MaxValue ? (int)(zigzag >> 1) ^ -(int)(zigzag & 1) : throw Damaged();
            }
            else
            {
                number += field >> 4;
            }

            ReadOnlySpan<byte> here = rest;
            Pass(field & 15, kind?.Field(number), depth + 1);
            if (kind is not null && kind.Field(number) == Whole)
            {
                Note(kind, number, new ParquetCheck { rest = here }.Number());
            }
        }
    }

    /// <summary>Keeps what the head of a page tells of its size.</summary>
    private void Note(Kind of, int number, ulong zigzag)
    {
        long value = (long)(zigzag >> 1) ^ -(long)(zigzag & 1);
        if (of == PageHeader)
        {
            (page, uncompressed, compressed) = number switch
            {
                1 => (value, uncompressed, compressed),
                2 => (page, value, compressed),
                3 => (page, uncompressed, value),
                _ => (page, uncompressed, compressed),
            };
        }
        else if (number == 1 && of == PageHeader.Field(7))
        {
            dictionary = value;
        }
        else if (number == 1 && (of == PageHeader.Field(5) || of == PageHeader.Field(8)))
        {
            values = value;
        }
    }

    private void PassList(Kind? kind, int depth)
    {
        int head = Take();
        ulong count = head >> 4 == 15 ? Number() : (ulong)(head >> 4);
        int element = head & 15;
        for (Within(count); count > 0; count--)
        {
            // Truths take no room as fields, and a byte each in a list.
            if (element is True or False)
            {
                Skip(1);
            }
            else
            {
                Pass(element, kind?.Element, depth + 1);
            }
        }
    }

    private int Take()
    {
        Within(1);
        int one = rest[0];
        rest = rest[1..];
        return one;
    }

    private ulong Number()
    {
        ulong number = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            int one = Take();
            number |= (ulong)(one & 127) << shift;
            if (one < 128)
            {
                return number;
            }
        }

        throw Damaged();
    }

    private void Skip(ulong count)
    {
        Within(count);
        rest = rest[(int)count..];
    }

    private readonly void Within(ulong count)
    {
        if (count > (ulong)rest.Length)
        {
            throw Damaged();
        }
    }

    /// <summary>What a field holds: a type; for a list that of its elements, for a structure those of its fields.</summary>
    private sealed class Kind(int type, Kind? element = null, params (int Number, Kind Kind)[] fields)
    {
        public int Type { get; } = type;

        public Kind? Element { get; } = element;

        public static Kind Of(params (int Number, Kind Kind)[] fields) => new(Struct, null, fields);

        public Kind Listed() => new(List, this);

        public Kind? Field(int number)
        {
            foreach ((int known, Kind kind) in fields)
            {
                if (known == number)
                {
                    return kind;
                }
            }

            return null;
        }
    }
}
