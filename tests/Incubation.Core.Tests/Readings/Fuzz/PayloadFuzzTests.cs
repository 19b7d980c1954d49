using System.Diagnostics;
using System.Globalization;
using System.Text;
using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings.Fuzz;

/// <summary>Alone, so that what others allocate is not taken for a leak.</summary>
[CollectionDefinition(nameof(FuzzAlone), DisableParallelization = true)]
public sealed class FuzzAlone;

/// <summary>
/// Payloads that look like payloads, with things wrong in them: a million in the long form (INCUBATION_LONG=1), a sample of the same kind in the
/// short one. INCUBATION_SEED repeats the chance of another run; without it a failure is the same on every machine.
/// </summary>
[Collection(nameof(FuzzAlone))]
public sealed class PayloadFuzzTests(ITestOutputHelper output)
{
    private const int LongPayloads = 1_000_000, ShortPayloads = 20_000, FirstSeed = 20_261_125;

    // A leak of one byte in every payload would be seen; what the runtime itself takes would not.
    private const long HeldBytes = 512 * 1024, WorkingSetBytes = 48 * 1024 * 1024;

    private static readonly Instant Arrived = Heard.Arrived;

    private static readonly Quantity?[] Topics =
        [Quantity.Temperature, Quantity.Temperature, Quantity.Humidity, Quantity.Battery, Quantity.Door, new Quantity("co2"), null];

    private static readonly PayloadFields[] Fields =
    [
        PayloadFields.Default,
        new("value", "unit", "at", new Dictionary<string, string> { ["tempF"] = "temperature degF", ["sensor.temp"] = "floor-temperature", ["battery"] = "" }),
    ];

    private readonly Dictionary<string, int> _outcomes = [];

    [Fact]
    public void Read_half_right_payloads_never_throws_keeps_its_promises_reads_a_good_share_and_holds_nothing()
    {
        bool isLong = Environment.GetEnvironmentVariable("INCUBATION_LONG") == "1";
        int payloads = isLong ? LongPayloads : ShortPayloads;
        int seed = int.TryParse(Environment.GetEnvironmentVariable("INCUBATION_SEED"), CultureInfo.InvariantCulture, out int given) ? given : FirstSeed;
        FuzzPayloads source = FuzzPayloads.FromCorpus(Path.Combine(Root(), "tests", "Incubation.Core.Tests", "Readings", "Fuzz", "Corpus"), seed);

        int read = Run(source, payloads / 2, seed);
        (long held, long resident) = Memory();
        read += Run(source, payloads - payloads / 2, seed);
        (long heldAfter, long residentAfter) = Memory();

        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{payloads} payloads, seed {seed}: {100.0 * read / payloads:0.0} % read, {_outcomes.Count} outcomes, held {heldAfter - held:+0;-0} bytes, resident {(residentAfter - resident) / 1024.0:+0;-0} KiB over the second half"));
        Assert.InRange(read, payloads * 3 / 10, payloads * 9 / 10);
        Assert.True(_outcomes.Count >= 30, $"only {_outcomes.Count} kinds of outcome were reached");
        Assert.True(heldAfter - held < HeldBytes, $"{heldAfter - held} bytes more are held");
        Assert.True(residentAfter - resident < WorkingSetBytes, $"{residentAfter - resident} bytes more are resident");
    }

    [Fact]
    public void Read_the_corpus_itself_is_read_but_for_what_needs_names_of_its_own()
    {
        foreach (string file in Directory.EnumerateFiles(Path.Combine(Root(), "tests", "Incubation.Core.Tests", "Readings", "Fuzz", "Corpus")))
        {
            string text = File.ReadAllText(file), name = Path.GetFileName(file);
            byte[] payload = file.EndsWith(".hex", StringComparison.Ordinal) ? Convert.FromHexString(text) : Encoding.UTF8.GetBytes(text);
            Quantity topic = name.StartsWith("door", StringComparison.Ordinal) ? Quantity.Door : Quantity.Temperature;
            PayloadResult result = Heard.Read(payload, topic);
            Assert.True(result.Rejection is null == name is not ("object-paths.json" or "object-short-names.json"), $"{name}: {result.Rejection}");
        }
    }

    [Fact]
    public void Read_any_bytes_at_all_never_throws() =>
        Gen.Byte.Array[0, 200].Sample(payload => Assert.True(Holds(Heard.Read(payload, Quantity.Temperature), Quantity.Temperature)));

    [Fact]
    public void Read_any_bytes_that_begin_like_CBOR_never_throws() =>
        Gen.Byte.Array[0, 200].Sample(tail =>
        {
            byte[] payload = [0x82, 0xA3, .. tail];
            Assert.True(Holds(Heard.Read(payload, Quantity.Temperature), Quantity.Temperature));
        });

    private int Run(FuzzPayloads source, int payloads, int seed)
    {
        int read = 0;
        for (int i = 0; i < payloads; i++)
        {
            byte[] payload = source.Next();
            Quantity? topic = Topics[i % Topics.Length];
            PayloadResult result;
            try
            {
                result = Heard.Read(payload, topic, fields: Fields[i % Fields.Length]);
                Availability.TryRead(payload, out _);
            }
            catch (Exception error)
            {
                throw new InvalidOperationException($"seed {seed}, payload {Convert.ToHexString(payload)} of {topic?.Name}", error);
            }

            Assert.True(Holds(result, topic), $"seed {seed}: {Convert.ToHexString(payload)} {Encoding.UTF8.GetString(payload)} of {topic?.Name}");
            read += result.Rejection is null ? 1 : 0;
            string outcome = result.Rejection ?? result.LeftOut ?? "";
            _outcomes[outcome] = _outcomes.GetValueOrDefault(outcome) + 1;
        }

        return read;
    }

    private static bool Holds(PayloadResult result, Quantity? topic)
    {
        if (result.Rejection is not null)
        {
            return result.Readings.IsEmpty && result.LeftOut is null && IsReason(result.Rejection);
        }

        Instant last = Instant.MinValue;
        foreach (Reading reading in result.Readings.Span)
        {
            if (!Holds(reading, topic) || reading.At < last)
            {
                return false;
            }

            last = reading.At;
        }

        return !result.Readings.IsEmpty && (result.LeftOut is null || IsReason(result.LeftOut));
    }

    private static bool Holds(in Reading reading, Quantity? topic)
    {
        string probe = reading.Series.Probe;
        return double.IsFinite(reading.Value) && Quantity.IsName(reading.Series.Quantity.Name)
            && probe.Length is > 0 and <= Limits.NameLength && probe.AsSpan().IndexOfAny("+#/") < 0
            && IsPlausible(reading, topic)
            && reading.ArrivedAt == Arrived && reading.At <= Arrived + ProbeClock.Ahead && reading.At >= Arrived - ProbeClock.Behind
            && ((reading.Marks & ReadingMarks.ClockOff) == 0 || reading.At == Arrived);
    }

    private static bool IsPlausible(in Reading reading, Quantity? topic) => reading.Series.Quantity.Kind switch
    {
        QuantityKind.Temperature => reading.IsGood ? reading.Value is >= -40 and <= 80 : reading.Value is > -127.1 and < -126.9 or > 84.9 and < 85.1,
        QuantityKind.Humidity => reading.Value is >= 0 and <= 105 && reading.Value >= 100 == ((reading.Marks & ReadingMarks.Saturated) != 0),
        QuantityKind.Charge => reading.Value is >= 0 and <= 110,
        QuantityKind.Voltage => reading.Value is >= 0 and <= 60,
        QuantityKind.Signal => reading.Value is >= -150 and <= 20,
        QuantityKind.Quality => reading.Value is >= 0 and <= 100,
        QuantityKind.Contact => reading.Value is 0 or 1,
        _ => topic is not null || reading.Series.Quantity.Name.Length > 0,
    };

    private static bool IsReason(string reason) => reason.Length is > 20 and < 220 && reason.Contains(". ", StringComparison.Ordinal);

    private static (long Held, long Resident) Memory()
    {
        long held = GC.GetTotalMemory(forceFullCollection: true);
        using Process here = Process.GetCurrentProcess();
        return (held, here.WorkingSet64);
    }

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Incubation.sln")))
        {
            folder = folder.Parent;
        }

        return folder!.FullName;
    }
}
