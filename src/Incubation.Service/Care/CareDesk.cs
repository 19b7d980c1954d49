using Incubation.Core.Care;
using Incubation.Service.Clutches;
using Incubation.Service.Facility;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Care;

/// <summary>Keeps the care log: append-only, under an id of the phone's, so that a tap may be sent late and twice.</summary>
internal sealed class CareDesk(
    IDbContextFactory<RecordsContext> records, ClutchBook book, IFacility facility, ClutchWhereabouts places, ClutchCalendar calendar) : IDisposable
{
    public const string Tub = "tub", Incubator = "incubator";

    private readonly SemaphoreSlim _oneLine = new(1, 1);

    /// <summary>Takes one line.</summary>
    public async Task<(Appending What, EntryForm Form, CareView? Line)> PutAsync(
        Guid id, CareRequest request, string by, CancellationToken cancellationToken)
    {
        var form = new EntryForm();
        CareRecord row = Read(form, id, request, by);
        if (form.Refused)
        {
            return (Appending.Refused, form, null);
        }

        await _oneLine.WaitAsync(cancellationToken);
        try
        {
            await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
            if (await context.Care.AsNoTracking().FirstOrDefaultAsync(c => c.Id == id, cancellationToken) is { } there)
            {
                return (SaysTheSame(there, row) ? Appending.AlreadyThere : Appending.IdTaken, form, CareView.Of(there, NameOf(there.On, there.Key)));
            }

            context.Care.Add(row);
            await context.SaveChangesAsync(cancellationToken);
            return (Appending.Added, form, CareView.Of(row, NameOf(row.On, row.Key)));
        }
        finally
        {
            _oneLine.Release();
        }
    }

    /// <summary>Lines, the newest first.</summary>
    /// <param name="on">"tub", "incubator" or null for both.</param>
    /// <param name="key">Key of one, or null for all.</param>
    /// <param name="limit">At most so many.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<IReadOnlyList<CareView>> ListAsync(string? on, string? key, int limit, CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        List<CareRecord> rows = await context.Care.AsNoTracking()
            .Where(c => (on == null || c.On == on) && (key == null || c.Key == key))
            .OrderByDescending(c => c.At).ThenByDescending(c => c.EnteredAt).Take(limit).ToListAsync(cancellationToken);
        return [.. rows.Select(row => CareView.Of(row, NameOf(row.On, row.Key)))];
    }

    public void Dispose() => _oneLine.Dispose();

    private CareRecord Read(EntryForm form, Guid id, CareRequest request, string by)
    {
        if (id == Guid.Empty)
        {
            form.Refuse("id", "An id of its own for each line, not only zeros.");
        }

        if (request.On is not (Tub or Incubator))
        {
            form.Refuse("on", "tub or incubator.");
        }
        else if (request.Key is null || !Exists(request.On, request.Key))
        {
            form.Refuse("key", request.On == Tub ? "The key of a tub on record." : "The key of an incubator in use.");
        }

        CareKind? kind = CareLog.Kind(request.Kind);
        if (kind is null)
        {
            form.Refuse("kind", $"One of {string.Join(", ", CareLog.Kinds.Select(CareLog.Word))}.");
        }

        string? note = form.Note("note", request.Note);
        NodaTime.Instant at = form.TimeOf("at", request.At);
        if (!form.Refused)
        {
            form.Take(CareLog.Check(
                new CareEntry(id, request.On == Tub ? CareTarget.Tub : CareTarget.Incubator, request.Key!, kind!.Value, request.WaterGrams, note ?? "", by, at),
                calendar.Now));
        }

        return new CareRecord
        {
            Id = id,
            On = request.On ?? "",
            Key = request.Key ?? "",
            Kind = request.Kind ?? "",
            WaterGrams = request.WaterGrams,
            Note = note,
            At = at,
            By = by,
            EnteredAt = calendar.Now,
        };
    }

    private bool Exists(string on, string key)
        => on == Tub ? book.Current.Tubs.ContainsKey(key) : facility.Current.Incubators.Any(i => i.Key == key);

    private string NameOf(string on, string key) => on == Tub ? places.TubName(key) : places.IncubatorName(key)!;

    private static bool SaysTheSame(CareRecord there, CareRecord sent)
        => (there.On, there.Key, there.Kind, there.WaterGrams, there.Note, there.At) == (sent.On, sent.Key, sent.Kind, sent.WaterGrams, sent.Note, sent.At);
}
