using System.Text;

namespace Incubation.Core.Readings;

/// <summary>Makes readings of SenML records: whose and of what each is, see <see cref="SenMLNames"/>, and in which unit.</summary>
internal static class SenMLReadings
{
    /// <summary>Reads a pack into the sink; gives the reason when it is refused. A record that can't be used costs none of the others.</summary>
    public static string? Gather(ReadOnlySpan<byte> bytes, SenMLForm form, PayloadFields fields, ref PayloadSink sink)
    {
        if (!SenMLPack.TryRead(bytes, form, out IReadOnlyList<SenMLRecord> records, out string? reason))
        {
            return reason;
        }

        SenMLNames names = new(sink.Source, fields);
        foreach (SenMLRecord record in records)
        {
            Take(record, names, ref sink);
        }

        if (records.Count == 0)
        {
            sink.LeaveOut(Rejections.NoRecords);
        }

        return null;
    }

    private static void Take(in SenMLRecord record, SenMLNames names, ref PayloadSink sink)
    {
        if (record.Fault is not null)
        {
            sink.LeaveOut(record.Fault);
            return;
        }

        if (record.Sum is not null)
        {
            sink.LeaveOut(Rejections.RecordSum);
        }

        if (record.Kind == SenMLValue.None)
        {
            return;
        }

        if (!names.TryTell(record, out SenMLSubject subject, out string? reason))
        {
            sink.LeaveOut(reason!);
            return;
        }

        if (TryNumber(record, subject.Series.Quantity.Kind, out double number))
        {
            sink.Add(subject.Series.Probe, subject.Series.Quantity, subject.Unit, number, Time(record.Time, sink.Source));
        }
        else
        {
            sink.LeaveOut(Rejections.RecordText);
        }
    }

    // A flag is a state, and no measured number.
    private static bool TryNumber(in SenMLRecord record, QuantityKind kind, out double number)
    {
        number = record.Number;
        return record.Kind switch
        {
            SenMLValue.Number => true,
            SenMLValue.Flag => kind is QuantityKind.Contact or QuantityKind.Other,
            SenMLValue.Text => kind == QuantityKind.Contact && ContactWords.TryRead(Encoding.UTF8.GetBytes(record.Text!), out number),
            _ => false,
        };
    }

    private static SentTime Time(double? seconds, in PayloadSource source) => seconds switch
    {
        // No time and time zero both mean about now (RFC 8428, section 4.5.3).
        null or 0 => SentTime.None,
        < SenMLRecord.RelativeBelow => SentTime.Relative(source.ArrivedAt, seconds.Value),
        _ => SentTime.FromSeconds(seconds.Value),
    };
}
