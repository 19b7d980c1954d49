// A probe for an ESP32 with one DS18B20 on pin 4 (4.7 kOhm from data to 3.3 V). Needs the libraries OneWire and DallasTemperature, and
// the board package's own esp_mqtt_client. Fill in the five lines below.
#include <DallasTemperature.h>
#include <OneWire.h>
#include <WiFi.h>
#include <mqtt_client.h>
#include <sys/time.h>

#include "averager.h"
#include "sender.h"

static const char* kNetwork = "your network";
static const char* kNetworkPassword = "its password";
static const char* kBroker = "mqtt://192.0.2.10:1883";
static const char* kTopic = "incubation/hazel/hazel-air/temperature";
static const char* kStatusTopic = "incubation/hazel/hazel-air/status";
static const char* kClientId = "hazel-air";

static const uint32_t kSampleEveryMs = 2000, kReportEveryMs = 10000;

using namespace incubation;

struct EspWire {
    esp_mqtt_client_handle_t client = nullptr;
    volatile bool connected = false;
    int publish(const char* topic, const char* payload, size_t length) {
        // Its own outbox is not used: ours outlives a connection and knows which readings are old.
        return connected ? esp_mqtt_client_publish(client, topic, payload, length, /*qos*/ 1, /*retain*/ 0) : -1;
    }
};

static OneWire bus(4);
static DallasTemperature sensor(&bus);
static EspWire wire;
static Sender<1440, EspWire> sender(wire, kTopic, "Cel");
static ProbeClock probe_clock;
static Averager averager;
static volatile int last_acknowledged = 0;
static volatile bool was_disconnected = false;

// Runs in the client's own task: it only notes, and the loop does.
static void on_mqtt(void*, esp_event_base_t, int32_t id, void* data) {
    if (id == MQTT_EVENT_CONNECTED) {
        wire.connected = true;
        esp_mqtt_client_publish(wire.client, kStatusTopic, "online", 6, 1, 1);
    } else if (id == MQTT_EVENT_DISCONNECTED) {
        wire.connected = false;
        was_disconnected = true;
    } else if (id == MQTT_EVENT_PUBLISHED) {
        last_acknowledged = static_cast<esp_mqtt_event_handle_t>(data)->msg_id;
    }
}

void setup() {
    WiFi.begin(kNetwork, kNetworkPassword);
    configTime(0, 0, "pool.ntp.org");
    sensor.begin();
    sensor.setWaitForConversion(false);
    sensor.requestTemperatures();
    esp_mqtt_client_config_t config = {};
    config.broker.address.uri = kBroker;
    config.credentials.client_id = kClientId;
    config.session.last_will.topic = kStatusTopic;
    config.session.last_will.msg = "offline";
    config.session.last_will.qos = 1;
    config.session.last_will.retain = 1;
    wire.client = esp_mqtt_client_init(&config);
    esp_mqtt_client_register_event(wire.client, MQTT_EVENT_ANY, on_mqtt, nullptr);
    esp_mqtt_client_start(wire.client);
}

void loop() {
    static uint32_t sampled = 0, reported = 0;
    const uint32_t now = millis();
    timeval time_of_day;
    gettimeofday(&time_of_day, nullptr);
    const int64_t unix_ms = int64_t(time_of_day.tv_sec) * 1000 + time_of_day.tv_usec / 1000;
    if (!probe_clock.set(unix_ms, now)) probe_clock.keep(now);

    if (now - sampled >= kSampleEveryMs) {
        sampled = now;
        averager.add(static_cast<int32_t>(lroundf(sensor.getTempCByIndex(0) * 1000)));
        sensor.requestTemperatures();
    }
    int32_t mean;
    if (now - reported >= kReportEveryMs && averager.take(mean)) {
        reported = now;
        sender.buffer().push({probe_clock.at(now), mean, now});
    }
    if (was_disconnected) {
        was_disconnected = false;
        sender.disconnected();
    }
    if (last_acknowledged != 0) {
        sender.acknowledged(last_acknowledged);
        last_acknowledged = 0;
    }
    sender.poll(probe_clock, now);
    delay(20);
}
