using Incubation.Service.People;
using Microsoft.Extensions.Time.Testing;
using Xunit;

namespace Incubation.Service.Tests.People;

public sealed class ClaimCodeTests
{
    [Fact]
    public void Matches_ignores_case_spaces_and_hyphens()
    {
        var code = new ClaimCode();
        Assert.True(code.Matches($" {code.Shown.ToLowerInvariant().Replace("-", " ", StringComparison.Ordinal)} ", out bool replaced));
        Assert.False(replaced);
    }

    [Fact]
    public void Matches_after_five_wrong_tries_has_a_new_code()
    {
        var code = new ClaimCode();
        string first = code.Shown;
        bool[] replaced = [.. Enumerable.Range(0, 5).Select(_ => { code.Matches("AAAAA-AAAAA", out bool r); return r; })];
        Assert.Equal([false, false, false, false, true], replaced);
        Assert.NotEqual(first, code.Shown);
        Assert.False(code.Matches(first, out _));
        Assert.True(code.Matches(code.Shown, out _));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("-")]
    public void Matches_nothing_with_nothing(string? tried) => Assert.False(new ClaimCode().Matches(tried, out _));

    [Fact]
    public void Shown_uses_no_letters_that_look_alike()
        => Assert.All(Enumerable.Range(0, 200), _ => Assert.Matches("^[A-HJKMNP-TW-Z2-9]{5}-[A-HJKMNP-TW-Z2-9]{5}$", new ClaimCode().Shown));
}

public sealed class SignInThrottleTests
{
    private readonly FakeTimeProvider _time = new();

    [Fact]
    public void Wait_after_five_wrong_tries_holds_that_name_at_that_address_only_until_the_window_is_over()
    {
        var throttle = new SignInThrottle(_time);
        for (int i = 0; i < SignInThrottle.MostPerName; i++)
        {
            Assert.Null(throttle.Wait("192.0.2.1", "Ada"));
            throttle.Wrong("192.0.2.1", "Ada");
        }

        Assert.Equal(SignInThrottle.Window, throttle.Wait("192.0.2.1", " ada "));
        Assert.Null(throttle.Wait("192.0.2.1", "Mara"));
        Assert.Null(throttle.Wait("192.0.2.2", "Ada"));
        _time.Advance(SignInThrottle.Window);
        Assert.Null(throttle.Wait("192.0.2.1", "Ada"));
    }

    [Fact]
    public void Wait_after_many_names_holds_the_address()
    {
        var throttle = new SignInThrottle(_time);
        for (int i = 0; i < SignInThrottle.MostPerAddress; i++)
        {
            throttle.Wrong("192.0.2.1", $"name {i}");
        }

        Assert.NotNull(throttle.Wait("192.0.2.1", "Ada"));
        Assert.Null(throttle.Wait("192.0.2.2", "Ada"));
    }

    [Fact]
    public void Right_forgets_the_wrong_tries()
    {
        var throttle = new SignInThrottle(_time);
        for (int round = 0; round < 20; round++)
        {
            throttle.Wrong("192.0.2.1", "Ada");
            throttle.Right("192.0.2.1", "Ada");
        }

        Assert.Null(throttle.Wait("192.0.2.1", "Ada"));
    }
}
