using Incubation.Core.Tint;
using Incubation.Reference.Tests.Sources;
using Xunit;

namespace Incubation.Reference.Tests.Tint;

public sealed class MarkerFiguresTests
{
    [Fact]
    [Source("Altman, D. G. and Bland, J. M.", 1994, "Statistics Notes: Diagnostic tests 1: sensitivity and specificity, BMJ 308:1552", "liver scan data",
        Remark = "counts from memory")]
    public void Liver_scans_have_the_printed_sensitivity_and_specificity()
    {
        var record = new MarkerRecord(CarrierRight: 231, CarrierMissed: 27, OtherWrong: 32, OtherRight: 54, NotTold: 0);

        Assert.Equal(0.90, record.Sensitivity!.Value, 0.005);
        Assert.Equal(0.63, record.Specificity!.Value, 0.005);
        Assert.Equal(344, record.Confirmed);
    }
}
