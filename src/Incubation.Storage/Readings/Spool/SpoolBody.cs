using System.Buffers.Binary;
using System.Text;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Storage.Readings.Spool;

/// <summary>
/// Readings as the bytes of a frame's body, about 9 each: which series by its number (named in full the first time since the spool was
/// empty), then whole numbers of seven bits a byte for the time since the reading before, how much later it arrived, and the value as a
/// decimal where one of up to four places is that very value, else its eight bytes.
/// </summary>
internal sealed class SpoolBody
{
    private const int RawValue = 7, HasMarks = 8, MostPlaces = 4;
    private static readonly double[] Scales = [1, 10, 100, 1_000, 10_000];

    private byte[] _bytes = new byte[8 * 1024];
    private int _length;

    /// <summary>What was written, after room for the header.</summary>
    public Span<byte> Frame => _bytes.AsSpan(0, _length);

    public void Begin() => _length = SpoolFrame.HeaderBytes;

    /// <summary>Adds readings; series that are new are added to the names.</summary>
    public void Add(ReadOnlySpan<Reading> readings, SpoolNames names)
    {
        Number((ulong)readings.Length);
        long before = 0;
        foreach (ref readonly Reading reading in readings)
        {
            int series = names.NumberOf(reading.Series, out bool isNew);
            Number((ulong)series);
            if (isNew)
            {
                Text(reading.Series.Probe);
                Text(reading.Series.Quantity.Name);
            }

            long at = reading.At.ToUnixTimeMilliseconds();
            int places = Places(reading.Value, out long number);
            Number((ulong)(places | (reading.Marks != 0 ? HasMarks : 0)));
            if (reading.Marks != 0)
            {
                Number((ulong)reading.Marks);
            }

            Signed(at - before);
            Signed(reading.ArrivedAt.ToUnixTimeMilliseconds() - at);
            if (places == RawValue)
            {
                BinaryPrimitives.WriteInt64LittleEndian(Room(sizeof(long)), BitConverter.DoubleToInt64Bits(reading.Value));
            }
            else
            {
                Signed(number);
            }

            before = at;
        }
    }

    /// <summary>Reads a body that a checksum has vouched for.</summary>
    /// <exception cref="InvalidDataException">It is not one that this program writes.</exception>
    public static void Read(ReadOnlySpan<byte> body, SpoolNames names, List<Reading> into)
    {
        long before = 0;
        for (ulong left = Number(ref body); left > 0; left--)
        {
            int series = (int)Number(ref body);
            if (series == names.Count)
            {
                string probe = Text(ref body);
                names.Add(new SeriesKey(probe, new Quantity(Text(ref body))));
            }

            int form = (int)Number(ref body), places = form & RawValue;
            ReadingMarks marks = (form & HasMarks) != 0 ? (ReadingMarks)Number(ref body) : ReadingMarks.None;
            long at = before + Signed(ref body), arrived = at + Signed(ref body);
            double value = places == RawValue ? BitConverter.Int64BitsToDouble(BinaryPrimitives.ReadInt64LittleEndian(Take(ref body, sizeof(long))))
                : places <= MostPlaces ? Signed(ref body) / Scales[places]
                : throw new InvalidDataException("The spool file holds a value of an unknown form.");
            into.Add(new Reading(names[series], value, Instant.FromUnixTimeMilliseconds(at), Instant.FromUnixTimeMilliseconds(arrived), marks));
            before = at;
        }
    }

    private static int Places(double value, out long number)
    {
        for (int places = 0; places <= MostPlaces; places++)
        {
            double scaled = Math.Round(value * Scales[places]);
            if (Math.Abs(scaled) < 1e12 && BitConverter.DoubleToInt64Bits(scaled / Scales[places]) == BitConverter.DoubleToInt64Bits(value))
            {
                number = (long)scaled;
                // A negative zero is a double of its own, but no whole number.
                return number == 0 && double.IsNegative(value) ? RawValue : places;
            }
        }

        number = 0;
        return RawValue;
    }

    private void Text(string text)
    {
        int length = Encoding.UTF8.GetByteCount(text);
        Number((ulong)length);
        Encoding.UTF8.GetBytes(text, Room(length));
    }

    private void Signed(long number) => Number((ulong)((number << 1) ^ (number >> 63)));

    private void Number(ulong number)
    {
        for (; number > 0x7F; number >>= 7)
        {
            Room(1)[0] = (byte)(number | 0x80);
        }

        Room(1)[0] = (byte)number;
    }

    private Span<byte> Room(int bytes)
    {
        if (_length + bytes > _bytes.Length)
        {
            Array.Resize(ref _bytes, Math.Max(_bytes.Length * 2, _length + bytes));
        }

        _length += bytes;
        return _bytes.AsSpan(_length - bytes, bytes);
    }

    private static string Text(ref ReadOnlySpan<byte> body) => Encoding.UTF8.GetString(Take(ref body, (int)Number(ref body)));

    private static long Signed(ref ReadOnlySpan<byte> body)
    {
        ulong number = Number(ref body);
        return (long)(number >> 1) ^ -(long)(number & 1);
    }

    private static ulong Number(ref ReadOnlySpan<byte> body)
    {
        ulong number = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            byte next = Take(ref body, 1)[0];
            number |= (ulong)(next & 0x7F) << shift;
            if (next < 0x80)
            {
                return number;
            }
        }

        throw new InvalidDataException("The spool file holds a number without an end.");
    }

    private static ReadOnlySpan<byte> Take(ref ReadOnlySpan<byte> body, int bytes)
    {
        if (bytes < 0 || bytes > body.Length)
        {
            throw new InvalidDataException("The spool file holds a frame that ends too early.");
        }

        ReadOnlySpan<byte> taken = body[..bytes];
        body = body[bytes..];
        return taken;
    }
}
