namespace Incubation.Core;

/// <summary>
/// Every bound of the service in one place, with the reason for the number and what happens when it is reached.
/// </summary>
public static class Limits
{
    /// <summary>Largest MQTT payload that is parsed, bytes. A SenML pack of a day's readings fits; a larger one is rejected with a reason.</summary>
    public const int PayloadBytes = 64 * 1024;

    /// <summary>Readings in one message. A day of one probe at 10 s in CBOR fits; a message with more is rejected with a reason.</summary>
    public const int ReadingsPerMessage = 10_000;

    /// <summary>Quantities of one probe. Boards measure a handful; readings of one more are rejected: it is a fault, not a probe.</summary>
    public const int QuantitiesPerProbe = 40;

    /// <summary>Levels of a JSON payload that a field may lie deep. More is refused in the settings.</summary>
    public const int FieldDepth = 4;

    /// <summary>Longest topic that is parsed, bytes of UTF-8. Four short names fit twenty times over; a longer one is rejected.</summary>
    public const int TopicBytes = 512;

    /// <summary>Rejected messages kept, by topic and reason. The oldest makes room; counts go on.</summary>
    public const int RejectedMessages = 200;

    /// <summary>Start of a rejected payload that is kept, bytes. Enough to recognise it; the rest is dropped.</summary>
    public const int RejectedPayloadBytes = 120;

    /// <summary>Probes that may be known at once. A topic that invents more is rejected: it is a fault, not a facility.</summary>
    public const int Probes = 10_000;

    /// <summary>Readings that wait for the writer. At the bound a publisher waits for its PUBACK, which slows it down.</summary>
    public const int WriterQueue = 20_000;

    /// <summary>Readings committed together. Keeps a commit under about 20 ms on a slow disk.</summary>
    public const int CommitBatch = 2_000;

    /// <summary>Time between two commits when little comes, milliseconds. A day then has at most 86,400 syncs, and no acknowledgement takes much over a second.</summary>
    public const int CommitWindowMs = 1_000;

    /// <summary>Commits that may follow each other at once after a quiet time. Beyond it small ones come a window apart.</summary>
    public const int CommitsInStock = 250;

    /// <summary>Waiting readings that are committed at once however little time has passed: from here on a commit is shared by enough.</summary>
    public const int CommitAtOnce = 32;

    /// <summary>Minutes of sealed days kept unpacked, bytes: a season of five series that are looked at. Beyond it the longest unused are read again.</summary>
    public const int SealedMinutesKeptBytes = 24 * 1024 * 1024;

    /// <summary>Sealed days kept packed, bytes: a season of eight series. Beyond it the longest unused are read again.</summary>
    public const int SealedReadingsKeptBytes = 24 * 1024 * 1024;

    /// <summary>Readings of one series in a day that is sealed: eleven a second. A day with more stays as rows, so that packing never needs much memory.</summary>
    public const int SealedDayReadings = 1_000_000;

    /// <summary>Text of an export that is gathered before it is sent, characters. Few writes, and little memory however much is exported.</summary>
    public const int ExportTextCharacters = 32 * 1024;

    /// <summary>
    /// Largest file of readings that is brought in, bytes: fifty probes at 10 s for a season and a half, as an export writes them. A larger one is
    /// refused; it can be brought in in parts.
    /// </summary>
    public const long ImportBytes = 4L * 1024 * 1024 * 1024;

    /// <summary>Room that a file of readings must leave on the disk, bytes: what is brought in takes room too, and live readings go first.</summary>
    public const long ImportRoomBytes = 512L * 1024 * 1024;

    /// <summary>Start of a file that is looked at to guess how it is to be read, bytes: thousands of lines.</summary>
    public const int ImportHeadBytes = 256 * 1024;

    /// <summary>Longest line of a file of readings, bytes: each of the most columns may have 250. A longer one is refused, and the next is read.</summary>
    public const int ImportLineBytes = 64 * 1024;

    /// <summary>Columns of a file of readings: a probe each for two quantities of a large room. A line with more is refused.</summary>
    public const int ImportColumns = 256;

    /// <summary>
    /// Readings of a file that are stored at once. Live readings wait for one such commit at the most, a few milliseconds; and one sync is shared by
    /// enough.
    /// </summary>
    public const int ImportBatch = 1_000;

    /// <summary>Refused lines of a file that are kept on record: enough to see what is wrong. All of them are in the report.</summary>
    public const int ImportRefusalsShown = 50;

    /// <summary>Start of a refused line that is shown, bytes. Enough to recognise it.</summary>
    public const int ImportLineShown = 160;

    /// <summary>Lines in the report of one import: more than a person reads, about 30 MB. Beyond it they are counted only.</summary>
    public const int ImportReportLines = 100_000;

    /// <summary>Files of readings that lie ready at once. One more is refused until one is done or deleted.</summary>
    public const int ImportsWaiting = 20;

    /// <summary>Imports on record in one answer: the newest. Older ones stay on record.</summary>
    public const int ImportsListed = 50;

    /// <summary>Days after which a file that nobody went on with is deleted, and the report of one that is done.</summary>
    public const int ImportKeptDays = 14;

    /// <summary>Open live feeds. One more gets 503 with Retry-After; a phone opens one.</summary>
    public const int LiveFeeds = 200;

    /// <summary>Events that wait for one slow phone. At the bound the oldest go and the phone is told to fetch again.</summary>
    public const int LiveFeedQueue = 64;

    /// <summary>Longest name of an incubator, probe, person or place, characters.</summary>
    public const int NameLength = 80;

    /// <summary>Longest note, characters.</summary>
    public const int NoteLength = 4_000;

    /// <summary>Incubators in a facility.</summary>
    public const int Incubators = 500;

    /// <summary>Run-ins of one incubator in one answer: the newest, each judged anew; older ones stay on record.</summary>
    public const int RunIns = 10;

    /// <summary>Steps in the call-out order.</summary>
    public const int CallOutSteps = 20;

    /// <summary>Calls that wait to be delivered. Beyond it repeats are left out first; first calls never are.</summary>
    public const int WaitingCalls = 2_000;

    /// <summary>Subscriptions that other programs may hold on the embedded broker. One more is refused: it is a fault or a flood.</summary>
    public const int BrokerSubscriptions = 10_000;

    /// <summary>Topics of which the embedded broker keeps a retained message. Beyond it the flag is ignored; the message itself is taken.</summary>
    public const int RetainedTopics = 20_000;

    /// <summary>Longest MQTT client id, characters. A longer one is refused, since sessions are kept under it.</summary>
    public const int ClientIdLength = 256;

    /// <summary>
    /// Messages of an external broker, or of one client of the embedded one, that may be unacknowledged at once. At the bound no more is taken
    /// from it until some are stored.
    /// </summary>
    public const int UnacknowledgedMessages = 1_000;

    /// <summary>Largest packet taken from an external broker, bytes: the largest payload that is read, and some to be refused with words. It drops larger ones.</summary>
    public const int ExternalPacketBytes = 256 * 1024;

    /// <summary>Most buckets one history answer holds: wider than any screen's pixels.</summary>
    public const int HistoryBuckets = 5_000;

    /// <summary>Largest body of a JSON request, bytes.</summary>
    public const int RequestBodyBytes = 256 * 1024;

    /// <summary>Eggs in one clutch. The largest python clutches hold about 100; more is a typing slip or several clutches, and is refused with words.</summary>
    public const int EggsPerClutch = 150;

    /// <summary>Highest number pencilled on an egg. Four digits fit on a shell; a larger one is refused.</summary>
    public const int EggNumber = 9_999;

    /// <summary>Eggs in one exact binomial. Many seasons of a large facility fit; more is refused.</summary>
    public const int EggsCounted = 100_000;

    /// <summary>Outcomes that the exact multinomial test enumerates (under 0.2 s). Beyond it chi-square takes over, which is then valid.</summary>
    public const int MultinomialOutcomes = 200_000;

    /// <summary>Days after laying at which a clutch can no longer be in its first season; an older lay date asks for "already finished".</summary>
    public const int ClutchDays = 120;

    /// <summary>Days a forecast looks ahead of laying. Slower than this is "no pip to be expected at this temperature".</summary>
    public const int ForecastDays = 250;

    /// <summary>Candling entries of one clutch: 150 eggs looked at daily for a season and a half. Beyond it entries are refused.</summary>
    public const int CandlingsPerClutch = 20_000;

    /// <summary>Shell findings in one candling entry. The list of terms is shorter; more is refused.</summary>
    public const int ShellFindings = 12;

    /// <summary>Clutches on record, finished ones included: fifty seasons of a large facility. Beyond it a new one is refused.</summary>
    public const int Clutches = 20_000;

    /// <summary>Tubs on record. They are used again season after season; beyond it a new one is refused.</summary>
    public const int Tubs = 5_000;

    /// <summary>Outcomes of one egg, corrections included. More is a fault of the sender, and is refused.</summary>
    public const int OutcomesPerEgg = 50;

    /// <summary>Largest photo of a tub, bytes: a phone's picture at screen size. A larger one is refused with words.</summary>
    public const int PhotoBytes = 3 * 1024 * 1024;

    /// <summary>Calibrations of one probe, superseded ones included: monthly for forty years. Beyond it a new one is refused.</summary>
    public const int CalibrationsPerProbe = 500;

    /// <summary>Lines of the care log in one answer: more than a person reads.</summary>
    public const int CareLines = 500;

    /// <summary>Usual size of the spool file, MiB. Fifty probes at 10 s fill about 5 MB of it a day; when it is full, readings are refused.</summary>
    public const int SpoolMegabytes = 64;

    /// <summary>Usual size of the reserve file, MiB: weeks of alarms and calls. It is given up when less than half of it is left on the disk.</summary>
    public const int ReserveMegabytes = 32;

    /// <summary>Largest spool or reserve file that may be asked for, MiB. More is a slip of the pen.</summary>
    public const int SpareMegabytes = 4_096;

    /// <summary>Longest pause before the database is tried again, seconds. Meanwhile readings go into the spool file.</summary>
    public const int StoreRetrySeconds = 15;

    /// <summary>Spooled readings caught up in one go, between two batches of fresh ones: twice a batch, so that catching up wins.</summary>
    public const int CatchUpBatch = 2 * CommitBatch;

    /// <summary>
    /// Readings that wait one by one to be copied: five days of 50 probes at 10 s, or two hours of 200 at 1 Hz with three quantities, in about
    /// 150 MB of disk. Beyond it their days are noted and copied whole later, which takes no room and longer.
    /// </summary>
    public const int CopyOutboxRows = 4_320_000;

    /// <summary>Readings that the copy refused and that are kept with the reason: more than a person looks through. Beyond it their days are noted.</summary>
    public const int CopyRefused = 1_000;

    /// <summary>Copied entries that one commit of readings drops from the outbox: a few milliseconds of it. The rest goes with the next.</summary>
    public const int CopyRowsDropped = 10_000;

    /// <summary>Points sent to the copy at once, as InfluxDB's own advice on batches says (docs.influxdata.com, "Optimize writes"); fewer when it says "too large".</summary>
    public const int CopyPoints = 5_000;
}
